"""What would put a finding right. `adapters` finds the chains of adapters that join two unlike ends."""
