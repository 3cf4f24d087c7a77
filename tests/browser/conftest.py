"""What is expected of a page is waited for as long as a click is: a busy machine takes its time."""

from playwright.sync_api import expect

expect.set_options(timeout=30_000)
