"""The shops of a kept database: the demo's, with a job at each stage, and the stranger's.

Everything comes about through the services, on a clock that stands still between acts.
"""
