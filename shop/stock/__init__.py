"""Cut plans: what is cut from which sheet or bar, with as few new ones as can be, and what is left.

Pure functions of parts, boards and the kerf; nothing here knows the job.
"""
