"""Files and drawings made from a job."""
