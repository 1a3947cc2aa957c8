"""The drill: a person is led through a night that is over, decides at each stop, and is marked.

A stop is one second of the night. What is right there is the engine's worst level at that
second, as it was known then; nothing later is looked at. The engine is the only judge, but for
what the vet has said: nobody is held to a limit of which a vet had been told.
"""
