"""One litter's night and weeks told as plain facts: what every form of the paper rests on."""
