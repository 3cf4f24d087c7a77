"""Writes of notices: one function a use."""

from .notices import notice_see, notices_follow, shop_follow, shops_due

__all__ = ["notice_see", "notices_follow", "shop_follow", "shops_due"]
