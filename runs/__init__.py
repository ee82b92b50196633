"""What the verbs of run.py do. Standard library only: it runs before anything is installed."""
