"""What a plan says of itself to whoever cannot see it."""

from config.messages.message import message

PLAN_OF = message("drawing.plan-of", "Plan of {storey}")
