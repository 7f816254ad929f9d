# fuzz programs.
