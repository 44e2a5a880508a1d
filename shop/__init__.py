"""The job and everything that needs materials or physics."""
