"""The worked examples W1 to W7: invented jobs, worked by hand, run from the job file to plan.json."""
