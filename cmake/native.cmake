# The programs that run on this machine.
find_package(PkgConfig REQUIRED)
