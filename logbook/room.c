/* room.c -- see room.h. */
#include "logbook/room.h"

#include <stdlib.h>

void *(*bfi_room)(size_t n) = malloc;
