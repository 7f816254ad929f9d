# The ladder of `make evaluate`: an adviser beside simpler ones, in worlds that are its own model and in others (tests/worlds).
set(BF_WORLDS tests/worlds/world.c tests/worlds/own_model.c tests/worlds/pond.c tests/worlds/shoal.c tests/worlds/clockwork.c
    tests/worlds/angler.c tests/worlds/simple.c tests/worlds/advised.c)
add_executable(ladder tests/worlds/ladder.c ${BF_WORLDS})
target_include_directories(ladder PRIVATE tests ${CMAKE_SOURCE_DIR})
target_link_libraries(ladder PRIVATE bf_swim)

# Crashes and determinism of the worlds and of those who fish them: six sessions plain, one under sanitizers.
if(BF_TESTS)
  bf_plain_test(worlds_all worlds tests/worlds/worlds_test.c ${BF_WORLDS})
  add_executable(worlds_test tests/worlds/worlds_test.c ${BF_WORLDS})
  target_include_directories(worlds_test PRIVATE tests ${CMAKE_SOURCE_DIR})
  target_link_libraries(worlds_test PRIVATE bf_swim PkgConfig::CMOCKA)
  add_test(NAME worlds.worlds_test COMMAND worlds_test)
  set_tests_properties(worlds.worlds_test PROPERTIES ENVIRONMENT BF_FEW=1 TIMEOUT 600)
endif()
