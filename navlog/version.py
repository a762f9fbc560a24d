"""The version of the package, in a module of its own so that reading it imports nothing else."""

VERSION = "0.1.0"
