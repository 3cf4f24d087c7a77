"""Publish the JSON Schema of house files."""

import json

from django.core.management.base import BaseCommand

from inspections.checker.house import House


class Command(BaseCommand):
    """Print the schema, as `examples/house.schema.json` holds it."""

    help = "Print the JSON Schema (2020-12) of house files."
    requires_system_checks = ()

    def handle(self, *args: str, **options: str) -> None:
        schema = {"$schema": "https://json-schema.org/draft/2020-12/schema"}
        schema |= House.model_json_schema()
        self.stdout.write(json.dumps(schema, indent=2, ensure_ascii=False))
