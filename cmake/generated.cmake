# Files made at build time; nothing third-party is committed.
file(MAKE_DIRECTORY ${BF_GENERATED} ${CMAKE_BINARY_DIR}/third)

# jsmn (Debian's header-only package) alone in a folder, so that a wasm build does not see the host's other headers.
find_file(BF_JSMN jsmn.h PATHS /usr/include /usr/local/include NO_DEFAULT_PATH NO_CMAKE_FIND_ROOT_PATH REQUIRED)
configure_file(${BF_JSMN} ${CMAKE_BINARY_DIR}/third/jsmn.h COPYONLY)
