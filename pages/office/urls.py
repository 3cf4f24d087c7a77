"""Addresses of the pages of the office."""

from django.urls import path

from pages.account.again import asks_again
from pages.office import (
    authorities,
    crew_day,
    crews,
    figures,
    guide,
    messages,
    notices,
    people,
    plans,
    rulebooks,
    today,
)

urlpatterns = [
    path("today/", today.today, name="today"),
    path("figures/", figures.shop_figures, name="figures"),
    path("figures/<slug:key>/", figures.behind, name="figure-jobs"),
    path("rulebooks/", rulebooks.rulebooks, name="rulebooks"),
    path("rulebooks/<slug:name>/", rulebooks.rulebook, name="rulebook"),
    path("rulebooks/<slug:name>/<slug:rule>/", rulebooks.rule_page, name="rule"),
    path("jobs/<uuid:job_id>/check-again/", rulebooks.check_again, name="check-again"),
    path("people/", people.people, name="people"),
    path("people/invite/", asks_again(people.invite), name="invite"),
    path("people/office-first/", people.office_first, name="office-first"),
    path("people/locations/", people.locations, name="locations"),
    path("people/firm/", people.firm, name="firm"),
    path("people/<uuid:membership_id>/", asks_again(people.member), name="member"),
    path(
        "people/<uuid:membership_id>/back/", asks_again(people.make_way_back), name="way-back-new"
    ),
    path(
        "invitations/<uuid:invitation_id>/withdraw/",
        people.withdraw_invitation,
        name="invitation-withdraw",
    ),
    path("guide/", guide.guide, name="guide"),
    path("authorities/", authorities.authorities, name="authorities"),
    path("authorities/new/", authorities.authority_new, name="authority-new"),
    path("authorities/<uuid:authority_id>/", authorities.authority, name="authority"),
    path("plan/", plans.plans, name="plans"),
    path("plan/ask/", plans.ask_plan, name="plan-ask"),
    path("plan/<uuid:plan_id>/", plans.plan, name="plan"),
    path("plan/<uuid:plan_id>/month/", plans.month, name="plan-month"),
    path("plan/<uuid:plan_id>/tell/", plans.tell, name="plan-tell"),
    path("crews/", crews.crews, name="crews"),
    path("crews/open/", crews.open_crew, name="crew-open"),
    path("crews/skill/", crews.skill, name="crew-skill"),
    path("crews/absence/", crews.absence, name="absence"),
    path("crews/absence/<uuid:absence_id>/end/", crews.end_absence, name="absence-end"),
    path("crews/rules/", crews.set_work_rules, name="work-rules"),
    path("crews/driving/", crews.drive_times, name="drive-times"),
    path("crews/day/", crew_day.tomorrow, name="days"),
    path("crews/<uuid:crew_id>/place/", crews.place, name="crew-place"),
    path("crews/<uuid:crew_id>/day/", crew_day.crew_day, name="crew-day"),
    path("crews/<uuid:crew_id>/day.pdf", crew_day.crew_day_sheet, name="crew-day-pdf"),
    path("crews/<uuid:crew_id>/day.ics", crew_day.crew_day_calendar, name="crew-day-ics"),
    path("crews/<uuid:crew_id>/send/", crew_day.send, name="crew-day-send"),
    path("notices/office/", notices.office, name="notice-office"),
    path("notices/gateways/", notices.gateway_new, name="gateway-new"),
    path("deliveries/<uuid:delivery_id>/retry/", notices.retry, name="delivery-retry"),
    path("messages/", messages.sent_messages, name="messages"),
    path("messages/<uuid:delivery_id>/", messages.sent_message, name="message"),
]
