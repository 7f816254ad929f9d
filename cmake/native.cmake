# The programs that run on this machine.
find_package(PkgConfig REQUIRED)
find_package(Threads REQUIRED)

# The page over HTTP, to this machine only.
pkg_check_modules(MICROHTTPD REQUIRED IMPORTED_TARGET libmicrohttpd)
bf_room(server PkgConfig::MICROHTTPD Threads::Threads)
target_compile_definitions(bf_server PRIVATE _POSIX_C_SOURCE=200809L)

# The journal's database and the kit file. Each step of the schema is in the program as a C string.
pkg_check_modules(SQLITE3 REQUIRED IMPORTED_TARGET sqlite3>=3.37)
bf_room(logbook bf_text PkgConfig::SQLITE3)
target_compile_definitions(bf_logbook PRIVATE _POSIX_C_SOURCE=200809L)
foreach(step 1 2)
  add_custom_command(
    OUTPUT ${BF_GENERATED}/schema_${step}.c
    COMMAND ${CMAKE_COMMAND} -DIN=${CMAKE_SOURCE_DIR}/logbook/schema/${step}.sql
            -DOUT=${BF_GENERATED}/schema_${step}.c -DNAME=bfi_schema_${step} -DHEADER=logbook/schema.h
            -P ${CMAKE_SOURCE_DIR}/cmake/text_to_c.cmake
    DEPENDS logbook/schema/${step}.sql cmake/text_to_c.cmake
    COMMENT "schema ${step} as a C string")
  target_sources(bf_logbook PRIVATE ${BF_GENERATED}/schema_${step}.c)
endforeach()

# Pictures as PDF and PNG. The renderer is a module of its own beside the program, loaded when a picture is asked for:
# linking it would add its 10 ms of loading to every command.
pkg_check_modules(RSVG REQUIRED IMPORTED_TARGET librsvg-2.0)
add_library(baitfall_report MODULE report/render.c ${BF_GENERATED}/picture_css.c)
set_target_properties(baitfall_report PROPERTIES PREFIX "" C_VISIBILITY_PRESET hidden)
target_include_directories(baitfall_report PRIVATE include ${CMAKE_SOURCE_DIR})
target_link_libraries(baitfall_report PRIVATE PkgConfig::RSVG m)
add_library(bf_report STATIC report/report.c)
target_include_directories(bf_report PUBLIC include PRIVATE ${CMAKE_SOURCE_DIR})
target_link_libraries(bf_report PUBLIC bf_base PRIVATE ${CMAKE_DL_LIBS})
add_dependencies(bf_report baitfall_report)
if(BF_SANITIZE)
  target_sources(bf_report INTERFACE ${CMAKE_SOURCE_DIR}/report/sanitized.c)
endif()

# The program.
file(GLOB BF_CLI CONFIGURE_DEPENDS cli/*.c)
add_executable(baitfall ${BF_CLI} ${BF_GENERATED}/spring_day.c)
target_include_directories(baitfall PRIVATE ${CMAKE_SOURCE_DIR})
target_link_libraries(baitfall PRIVATE bf_text bf_logbook bf_server bf_report Threads::Threads)

# What `make install` puts in place, in two parts: the program with the page, and the library. The manual and the completions
# are written by the program itself.
include(GNUInstallDirs)
install(TARGETS baitfall DESTINATION ${CMAKE_INSTALL_BINDIR} COMPONENT program)
install(TARGETS baitfall_report DESTINATION lib/baitfall COMPONENT program)
install(DIRECTORY build/page/ DESTINATION share/baitfall/page COMPONENT program OPTIONAL)
install(CODE "
  function(written_by_program file)
    get_filename_component(folder \"\$ENV{DESTDIR}\${CMAKE_INSTALL_PREFIX}/\${file}\" DIRECTORY)
    file(MAKE_DIRECTORY \"\${folder}\")
    execute_process(COMMAND $<TARGET_FILE:baitfall> \${ARGN} COMMAND_ERROR_IS_FATAL ANY
                    OUTPUT_FILE \"\$ENV{DESTDIR}\${CMAKE_INSTALL_PREFIX}/\${file}\")
  endfunction()
  written_by_program(share/man/man1/baitfall.1 man)
  written_by_program(share/bash-completion/completions/baitfall completion bash)
  written_by_program(share/zsh/site-functions/_baitfall completion zsh)
  written_by_program(share/fish/vendor_completions.d/baitfall.fish completion fish)
" COMPONENT program)
# The core with text: its public headers, its rooms as archives, and pkg-config's file.
install(TARGETS bf_text bf_picture bf_swim bf_plan bf_record bf_tackle bf_feed bf_water bf_base DESTINATION lib
        COMPONENT library)
install(DIRECTORY include/baitfall DESTINATION include COMPONENT library
        PATTERN kit.h EXCLUDE PATTERN store.h EXCLUDE PATTERN report.h EXCLUDE PATTERN server.h EXCLUDE)
configure_file(cmake/baitfall.pc.in ${BF_GENERATED}/baitfall.pc @ONLY)
install(FILES ${BF_GENERATED}/baitfall.pc DESTINATION lib/pkgconfig COMPONENT library)
