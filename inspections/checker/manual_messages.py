"""How a limit is known, as the pages and the manual of rules say it."""

from config.messages.message import message

MEMORY = message("manual.memory", "from memory, not read in a source")
PRACTICE = message("manual.practice", "common practice, no source")
READ = message("manual.read", "read in: {source}")
AMENDED = message("manual.amended", "amended from {before}: {reason}")
