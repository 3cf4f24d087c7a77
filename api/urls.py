"""Addresses."""

urlpatterns: list = []
