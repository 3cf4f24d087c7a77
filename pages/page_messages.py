"""What every page may say: where a reader may go, and what comes back of a refused form."""

from config.messages.message import message

JOBS = message("page.jobs", "Jobs")
TODAY = message("page.today", "Today")
PLANS = message("page.plans", "Plan")
CREWS = message("page.crews", "Crews")
RULEBOOKS = message("page.rulebooks", "Rulebooks")
FIGURES = message("page.figures", "Figures")
PEOPLE = message("page.people", "People")
AUTHORITIES = message("page.authorities", "Authorities")
NOTIFICATIONS = message("page.notifications", "Notifications")
DAY_LISTS = message("page.day-lists", "Day lists")
WALKS = message("page.walks", "Walk")
MY_NOTIFICATIONS = message("page.my-notifications", "My notifications")

FEET_AND_INCHES = message("page.feet-and-inches", "ft in.")
MILLIMETRES = message("page.millimetres", "mm")

FILE_AGAIN = message("page.file-again", "Choose the file again.")
NO_PHOTOGRAPH = message("page.photo-missing", "No photo was sent. Choose a photo first.")
ALSO_TYPED = message("page.also-typed", "You also entered:")
