"""Addresses that open without an account."""

from django.urls import path

from pages.open import cover_links, health, message_links

urlpatterns = [
    path("paper/<str:token>/", cover_links.paper, name="paper"),
    path("areas/<uuid:area_id>/placard/", cover_links.placard, name="placard"),
    path("jobs/<uuid:job_id>/links/", cover_links.make, name="link-make"),
    path("links/<uuid:link_id>/withdraw/", cover_links.withdraw_link, name="link-withdraw"),
    path("l/<str:secret>", cover_links.link, name="link"),
    path("l/<str:secret>/appendix.pdf", cover_links.link_appendix, name="link-appendix"),
    path("l/<str:secret>/seen", cover_links.acknowledge, name="link-acknowledge"),
    path("healthy", health.healthy, name="healthy"),
    path("seen/<str:token>/", message_links.message_seen, name="notice-seen"),
    path("stop/<str:token>/", message_links.stop, name="notice-stop"),
    path("calendars/<str:token>.ics", message_links.calendar_feed, name="calendar"),
]
