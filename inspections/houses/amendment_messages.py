"""Why what somebody typed as a limit of a rulebook cannot be taken."""

from config.messages.message import message

YES_OR_NO = message("refused.limit.yes-or-no", "Enter yes or no.")
NOT_A_NUMBER = message("refused.limit.not-a-number", "“{typed}” is not a number. Enter a number.")
