"""The summary for the vet: which facts stand in it, in which order, in whose units."""
