"""Addresses of the pages about notices, and of the links in messages."""

from django.urls import path

from pages import messages, notice_links, notices

urlpatterns = [
    path("jobs/<uuid:job_id>/notices/", notices.of_job, name="job-notices"),
    path("wishes/", notices.wishes, name="wishes"),
    path("wishes/hours/", notices.habits, name="habits"),
    path("wishes/kinds/", notices.wish, name="wish"),
    path("wishes/addresses/", notices.address_new, name="address-new"),
    path("wishes/addresses/<uuid:address_id>/", notices.address_change, name="address-change"),
    path("wishes/calendars/", notices.feed_new, name="feed-new"),
    path("wishes/calendars/<uuid:feed_id>/", notices.feed_end, name="feed-end"),
    path("notices/office/", notices.office, name="notice-office"),
    path("notices/gateways/", notices.gateway_new, name="gateway-new"),
    path("deliveries/<uuid:delivery_id>/retry/", notices.retry, name="delivery-retry"),
    path("messages/", messages.messages, name="messages"),
    path("messages/<uuid:delivery_id>/", messages.message, name="message"),
    path("seen/<str:token>/", notice_links.seen, name="notice-seen"),
    path("stop/<str:token>/", notice_links.stop, name="notice-stop"),
    path("calendars/<str:token>.ics", notice_links.calendar, name="calendar"),
]
