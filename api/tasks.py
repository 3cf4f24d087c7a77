"""What a worker does for the API."""

from celery import shared_task

from api.base import answers_forget


@shared_task(name="api.forget_answers")
def forget_answers() -> int:
    """Forget answers to calls whose day is over; how many there were."""
    return answers_forget()
