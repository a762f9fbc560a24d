"""Single computations from arguments: each solved, with its workings and its lines."""
