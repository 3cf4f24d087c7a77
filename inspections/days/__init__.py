"""Crews' days: what is to do on each house, the plan, and what a crew is sent for tomorrow."""
