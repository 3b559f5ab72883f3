"""Rules about names in the file that mean nothing, and acceptances that no longer meet a finding."""
