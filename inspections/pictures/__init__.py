"""Photographs written anew, in a process of their own with bounded memory."""

from .reading import MOST_PIXELS, PictureUnreadable, written_anew

__all__ = ["MOST_PIXELS", "PictureUnreadable", "written_anew"]
