"""Messages: values, what they look like to a reader, and how they are kept."""
