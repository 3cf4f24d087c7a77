"""What somebody should be told, and what a shop set about the telling."""

from .notices import Kind, Notice
from .rules import NoticeRules

__all__ = ["Kind", "Notice", "NoticeRules"]
