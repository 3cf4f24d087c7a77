"""Planning: calendars and rules in, dates and their reasons out. No framework, no clock."""
