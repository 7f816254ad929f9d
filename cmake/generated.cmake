# Files made at build time; nothing third-party is committed.
file(MAKE_DIRECTORY ${BF_GENERATED} ${CMAKE_BINARY_DIR}/third)

# jsmn (Debian's header-only package) alone in a folder, so that a wasm build does not see the host's other headers.
find_file(BF_JSMN jsmn.h PATHS /usr/include /usr/local/include NO_DEFAULT_PATH NO_CMAKE_FIND_ROOT_PATH REQUIRED)
configure_file(${BF_JSMN} ${CMAKE_BINARY_DIR}/third/jsmn.h COPYONLY)

# The advance widths of the font that drawings are set in, so that words can be placed without a renderer.
find_file(BF_FONT_REGULAR DejaVuSans.ttf PATHS /usr/share/fonts/truetype/dejavu NO_DEFAULT_PATH
          NO_CMAKE_FIND_ROOT_PATH REQUIRED)
find_file(BF_FONT_BOLD DejaVuSans-Bold.ttf PATHS /usr/share/fonts/truetype/dejavu NO_DEFAULT_PATH
          NO_CMAKE_FIND_ROOT_PATH REQUIRED)
add_custom_command(
  OUTPUT ${BF_GENERATED}/font_advances.c
  COMMAND ${CMAKE_SOURCE_DIR}/scripts/font_advances ${BF_FONT_REGULAR} ${BF_FONT_BOLD} ${BF_GENERATED}/font_advances.c
  DEPENDS ${CMAKE_SOURCE_DIR}/scripts/font_advances ${BF_FONT_REGULAR} ${BF_FONT_BOLD}
  COMMENT "font advances")

# The stylesheet of the drawings as a C string.
add_custom_command(
  OUTPUT ${BF_GENERATED}/picture_css.c
  COMMAND ${CMAKE_COMMAND} -DIN=${CMAKE_SOURCE_DIR}/core/picture/picture.css -DOUT=${BF_GENERATED}/picture_css.c
          -DNAME=bf_picture_css -DHEADER=baitfall/picture.h -P ${CMAKE_SOURCE_DIR}/cmake/text_to_c.cmake
  DEPENDS core/picture/picture.css cmake/text_to_c.cmake
  COMMENT "picture.css as a C string")
set(BF_PICTURE_GENERATED ${BF_GENERATED}/font_advances.c ${BF_GENERATED}/picture_css.c)

# The invented day that the demo looks back on.
add_custom_command(
  OUTPUT ${BF_GENERATED}/spring_day.c
  COMMAND ${CMAKE_COMMAND} -DIN=${CMAKE_SOURCE_DIR}/examples/withy-pool/spring-day.journal.jsonl
          -DOUT=${BF_GENERATED}/spring_day.c -DNAME=cli_spring_day -DHEADER=cli/demo.h
          -P ${CMAKE_SOURCE_DIR}/cmake/text_to_c.cmake
  DEPENDS examples/withy-pool/spring-day.journal.jsonl cmake/text_to_c.cmake
  COMMENT "spring-day.journal.jsonl as a C string")
