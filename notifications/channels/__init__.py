"""The channels: how words leave this machine, and what a refusal means."""
