"""What happens at the loom: events, progress as their fold, shuttles, the place, yarn and amounts. Pure."""
