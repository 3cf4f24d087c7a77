"""The wiring as a graph: cables, circuits, lights and how far protection reaches."""
