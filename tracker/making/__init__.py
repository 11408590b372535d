"""Events to place, the journal that keeps events, and what to do about a miscount."""
