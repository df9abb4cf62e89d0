"""From confirmed rules to the job: clocks, dates, amounts and build-ups. Pure functions over records; no SQL."""
