/* schema.h -- the steps of the schema, the files of logbook/schema as C strings made at build time. */
#ifndef BFI_SCHEMA_H
#define BFI_SCHEMA_H

extern const char bfi_schema_1[], bfi_schema_2[];

#endif
