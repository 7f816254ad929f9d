# A text file as `const char NAME[]`: cmake -DIN=... -DOUT=... -DNAME=... -DHEADER=... -P text_to_c.cmake
# Bytes rather than a string literal: ISO C promises only 4095 characters for one.
file(READ ${IN} bytes HEX)
string(REGEX REPLACE "([0-9a-f][0-9a-f])" "0x\\1," bytes "${bytes}")
string(REGEX REPLACE "(0a,)" "\\1\n    " bytes "${bytes}")
file(WRITE ${OUT} "/* made from a text file by cmake/text_to_c.cmake */\n#include \"${HEADER}\"\nconst char ${NAME}[] = {\n    ${bytes}0};\n")
