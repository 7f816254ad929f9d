# The programs that run on this machine.
find_package(PkgConfig REQUIRED)

# The page over HTTP, to this machine only.
pkg_check_modules(MICROHTTPD REQUIRED IMPORTED_TARGET libmicrohttpd)
bf_room(server PkgConfig::MICROHTTPD)
target_compile_definitions(bf_server PRIVATE _POSIX_C_SOURCE=200809L)

# The kit file.
bf_room(logbook bf_base)
