"""The auditor."""
