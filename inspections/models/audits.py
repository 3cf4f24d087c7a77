"""How far the nightly audit has come, and what it last found in each shop."""

from django.db import models

from jobs.models import Shop
from jobs.models.fields import DayField, MomentField


class AuditRun(models.Model):
    """One night's audit of all jobs, shop by shop. Whoever is at it holds a lease."""

    night = DayField(primary_key=True)
    begun_at = MomentField()
    ended_at = MomentField(null=True, blank=True)
    lease = models.CharField(max_length=32, blank=True)
    lease_until = MomentField(null=True, blank=True)
    shop_id = models.UUIDField(null=True, blank=True)
    """The shop that it is at; null before the first."""
    job_id = models.UUIDField(null=True, blank=True)
    """The last job of that shop that was audited; null before the first."""
    jobs = models.PositiveIntegerField(default=0)
    differences = models.PositiveIntegerField(default=0)
    states = models.PositiveIntegerField(default=0)
    here = models.JSONField(default=dict)
    """What was found so far in the shop that it is at."""

    class Meta:
        ordering = ["night"]

    def __str__(self) -> str:
        return f"audit of {self.night}"


class AuditedShop(models.Model):
    """What the last audit found in a shop: how much, and the first lines of it."""

    shop = models.OneToOneField(Shop, models.CASCADE, primary_key=True, related_name="audited")
    audited_at = MomentField()
    jobs = models.PositiveIntegerField()
    differences = models.PositiveIntegerField()
    states = models.PositiveIntegerField()
    lines = models.JSONField(default=list)
    """The first differences: `job`, `area`, `about`, `tables` and `facts` of each."""

    class Meta:
        ordering = ["shop_id"]

    def __str__(self) -> str:
        return f"{self.shop}: {self.differences} differences"
