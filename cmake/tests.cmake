# Every tests/<room>/<topic>_test.c is a cmocka program of its own, linked with its room and the oracles.
pkg_check_modules(CMOCKA REQUIRED IMPORTED_TARGET cmocka)
pkg_check_modules(GSL REQUIRED IMPORTED_TARGET gsl)
find_library(BF_MPFR mpfr REQUIRED)
find_library(BF_GMP gmp REQUIRED)

# Journals of invented days (tests/invented), for whoever asks: bf_invented, and a program that prints them.
add_library(bf_invented STATIC tests/invented/invented.c)
target_include_directories(bf_invented PUBLIC tests/invented)
target_compile_definitions(bf_invented PRIVATE _POSIX_C_SOURCE=200809L)
target_link_libraries(bf_invented PUBLIC m)
add_executable(invented_journal tests/invented/invented_main.c)
target_link_libraries(invented_journal PRIVATE bf_invented)

foreach(room base water feed tackle plan record swim picture text server logbook report)
  file(GLOB tests CONFIGURE_DEPENDS tests/${room}/*_test.c)
  foreach(source ${tests})
    get_filename_component(name ${source} NAME_WE)
    add_executable(${name} ${source})
    target_include_directories(${name} PRIVATE tests)
    target_compile_definitions(${name} PRIVATE BF_TEST_DATA="${CMAKE_SOURCE_DIR}/tests/data")
    target_link_libraries(${name} PRIVATE bf_${room} bf_invented PkgConfig::CMOCKA PkgConfig::GSL ${BF_MPFR} ${BF_GMP} m)
    add_test(NAME ${room}.${name} COMMAND ${name})
    set_tests_properties(${room}.${name} PROPERTIES TIMEOUT 1500) # for BF_LONG; seconds as a rule
    if(room MATCHES "^(plan|swim)$") # they look inside their room
      target_include_directories(${name} PRIVATE ${CMAKE_SOURCE_DIR})
    endif()
  endforeach()
endforeach()

# What sanitizers would make slow runs whole without them: the core compiled once more, plain, and the same test programs
# linked with it.
file(GLOB plain CONFIGURE_DEPENDS core/base/*.c core/water/*.c core/feed/*.c core/tackle/*.c core/plan/*.c core/record/*.c
     core/swim/*.c)
set(BF_PLAIN -O3 -fno-sanitize=all)
add_library(bf_plain STATIC EXCLUDE_FROM_ALL ${plain})
target_include_directories(bf_plain PUBLIC include ${CMAKE_SOURCE_DIR})
target_compile_options(bf_plain PRIVATE ${BF_PLAIN})
function(bf_plain_test name room source) # name: the test is <room>.<name>
  add_executable(${name} ${source} ${ARGN})
  target_include_directories(${name} PRIVATE tests)
  target_compile_definitions(${name} PRIVATE BF_TEST_DATA="${CMAKE_SOURCE_DIR}/tests/data")
  target_compile_options(${name} PRIVATE ${BF_PLAIN})
  target_link_options(${name} PRIVATE -fno-sanitize=all)
  target_link_libraries(${name} PRIVATE bf_plain PkgConfig::CMOCKA ${BF_MPFR} ${BF_GMP} m)
  add_test(NAME ${room}.${name} COMMAND ${name})
  set_tests_properties(${room}.${name} PROPERTIES TIMEOUT 1500)
endfunction()
function(bf_whole name room) # with BF_LONG
  bf_plain_test(${name} ${room} ${ARGN})
  set_tests_properties(${room}.${name} PROPERTIES ENVIRONMENT BF_LONG=1)
endfunction()

# Mostly samples: all of them plain, and a tenth (check_samples) under sanitizers, which every line of it meets there too.
foreach(test base.elementary feed.measure)
  string(REGEX MATCH "^[a-z]+" room ${test})
  string(REGEX MATCH "[a-z]+$" name ${test})
  bf_plain_test(${name}_all ${room} tests/${room}/${name}_test.c)
  set_tests_properties(${test}_test PROPERTIES ENVIRONMENT BF_FEW=1)
endforeach()
# Learning from beliefs of three hours: plain, and left out under sanitizers.
bf_plain_test(learn_all swim tests/swim/learn_test.c)
set_tests_properties(swim.learn_test PROPERTIES ENVIRONMENT BF_FEW=1)
bf_whole(suggest_all plan tests/plan/suggest_test.c)
bf_whole(filter_all swim tests/swim/filter_test.c)
bf_whole(closed_all swim tests/swim/closed_test.c)
bf_whole(busy_all swim tests/swim/busy_test.c)
bf_whole(planner_all swim tests/swim/planner_test.c)
bf_whole(rollout_all swim tests/swim/rollout_test.c)
foreach(name sbc predict)
  bf_whole(${name}_all swim tests/swim/${name}_test.c tests/swim/calibration.c)
  target_sources(${name}_test PRIVATE tests/swim/calibration.c)
  foreach(program ${name}_all ${name}_test)
    target_link_options(${program} PRIVATE ${BF_FAULTS})
  endforeach()
endforeach()

# SMC^2, the truth that the belief is held against; its own faults come by the linker too.
set(BF_SMC2 tests/swim/smc2.c tests/swim/smc2_swim.c)
target_sources(smc2_test PRIVATE ${BF_SMC2})
bf_whole(smc2_all swim tests/swim/smc2_test.c ${BF_SMC2})
foreach(program smc2_all smc2_test)
  target_link_options(${program} PRIVATE -Wl,--wrap=bfi_weights_resample)
endforeach()

# Some tests look inside their room. Pictures: some ask the renderers that the pictures are made for.
foreach(name svg_test contour_test shotting_test read_test venue_rules_test lumped_test lay_test aim_fit_test store_test round_test fault_test refused_test kill_test at_once_test cable_test rig_practice_test
        sketch_test)
  target_include_directories(${name} PRIVATE ${CMAKE_SOURCE_DIR})
endforeach()
target_link_libraries(rsvg_overlap_test PRIVATE bf_report PkgConfig::RSVG)
target_link_libraries(report_test PRIVATE bf_picture)
add_executable(draw_scenes tests/picture/overlap/draw_scenes.c)
target_link_libraries(draw_scenes PRIVATE bf_picture m)
add_test(NAME picture.chromium_overlap
         COMMAND ${CMAKE_SOURCE_DIR}/tests/picture/overlap/check $<TARGET_FILE:draw_scenes>)

# Waits and hazards beside R itself, with BF_LONG; else the script says so and is counted as skipped.
add_executable(r_live_beside tests/record/r_live_beside.c)
target_link_libraries(r_live_beside PRIVATE bf_record)
add_test(NAME record.r_live COMMAND ${CMAKE_SOURCE_DIR}/tests/record/r_live $<TARGET_FILE:r_live_beside>)
set_tests_properties(record.r_live PROPERTIES SKIP_RETURN_CODE 77 TIMEOUT 600)

# The program killed at work, and 1 GiB through a pipe with BF_LONG (the release build that scripts/check made).
add_test(NAME logbook.kill_program COMMAND ${CMAKE_SOURCE_DIR}/tests/logbook/kill_program $<TARGET_FILE:baitfall>
         ${CMAKE_SOURCE_DIR}/tests/data/logbook/day.journal.jsonl)
add_test(NAME logbook.gigabyte COMMAND ${CMAKE_SOURCE_DIR}/tests/logbook/gigabyte ${CMAKE_SOURCE_DIR}/build/release/baitfall
         $<TARGET_FILE:invented_journal>)
set_tests_properties(logbook.kill_program PROPERTIES TIMEOUT 900)
set_tests_properties(logbook.gigabyte PROPERTIES SKIP_RETURN_CODE 77 TIMEOUT 1800)

# `baitfall serve` under valgrind, as good and hostile clients ask it (the release build and the page that scripts/check made).
add_test(NAME server.curl COMMAND ${CMAKE_SOURCE_DIR}/tests/server/curl_check ${CMAKE_SOURCE_DIR}/build/release/baitfall
         ${CMAKE_SOURCE_DIR}/build/page)
set_tests_properties(server.curl PROPERTIES TIMEOUT 120)

# Checks on the tree and on what was built before the tests (scripts/check builds it).
foreach(script purity tidy formats docs words)
  add_test(NAME house.${script} COMMAND ${CMAKE_SOURCE_DIR}/scripts/${script})
endforeach()

# The page as scripts/check built it, in Chromium, and its types.
file(GLOB page_tests CONFIGURE_DEPENDS tests/page/*.test.mjs)
foreach(source ${page_tests})
  get_filename_component(name ${source} NAME_WE)
  add_test(NAME page.${name} COMMAND node --test ${source})
  set_tests_properties(page.${name} PROPERTIES TIMEOUT 600)
endforeach()
add_test(NAME page.types COMMAND npm run --silent typecheck WORKING_DIRECTORY ${CMAKE_SOURCE_DIR}/page)
add_test(NAME cli.cases COMMAND ${CMAKE_SOURCE_DIR}/tests/cli/run $<TARGET_FILE:baitfall>)
set_tests_properties(cli.cases PROPERTIES TIMEOUT 600)
# What is given away: make install, make deb, make dist, the page's zip.
foreach(what check deb dist page)
  add_test(NAME install.${what} COMMAND ${CMAKE_SOURCE_DIR}/tests/install/${what} ${CMAKE_SOURCE_DIR}/build/release)
endforeach()
set_tests_properties(install.dist PROPERTIES SKIP_RETURN_CODE 77 TIMEOUT 900)

# Ten million arguments a function with BF_LONG.
set_tests_properties(base.elementary_test PROPERTIES TIMEOUT 3000)

# What takes longest begins first, so that no core is left waiting for it at the end: seconds, as one core takes them.
function(bf_cost seconds) # tests
  set_tests_properties(${ARGN} PROPERTIES COST ${seconds})
endfunction()
bf_cost(150 cli.cases)
bf_cost(80 swim.sbc_all swim.smc2_all)
bf_cost(110 page.plan)
bf_cost(70 page.bank page.record page.quick page.bed page.hands)
bf_cost(45 page.screens page.copies page.next page.rehearse page.access page.log page.same page.peg page.review)
bf_cost(25 plan.suggest_all)
bf_cost(15 swim.planner_all)
bf_cost(25 swim.predict_all text.answer_test picture.rsvg_overlap_test record.pool_test base.special_beta_test plan.suggest_test
        base.elementary_all feed.measure_all swim.filter_all)
bf_cost(15 page.season page.borrowed page.print page.clock page.countdown page.offline page.typeup tackle.lay_test tackle.aim_fit_test
        base.special_gamma_test text.number_test text.plan_rig_test base.special_test record.trial_test swim.filter_test
        picture.chromium_overlap logbook.fault_test logbook.refused_test feed.fall_command_test picture.record_picture_test plan.whatif_test
        house.tidy)
bf_cost(7 swim.busy_all swim.learn_test tackle.aim_mend_test page.types picture.above_test text.rig_answer_test text.plan_answer_test
        tackle.rig_test base.elementary_test feed.measure_test install.deb install.dist server.curl)
