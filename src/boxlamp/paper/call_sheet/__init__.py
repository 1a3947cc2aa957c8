"""The call sheet: what to say to the vet on the telephone, in the order in which it is asked."""
