# bench programs.
