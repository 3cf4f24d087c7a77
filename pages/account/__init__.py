"""The way in, and what somebody keeps of it: password, passkeys, second factor, sessions."""
