/* file.h -- a new file that takes its name at once: whole, or not at all. Internal to logbook/. */
#ifndef BFI_FILE_H
#define BFI_FILE_H

#include "baitfall/kit.h"

typedef struct bfi_new_file {
    char temporary[BF_PATH_MOST + 8]; /* beside the name it will take */
    int fd;
} bfi_new_file;

/* Opens a temporary file beside `path`. replace 0: BF_FILE_THERE when the name is taken; 1: BF_FILE_DATABASE when a database has it,
 * BF_FILE_SPECIAL when no ordinary file does. */
BF_CHECK bf_file bfi_file_begin(const char *path, int replace, bfi_new_file *file);

/* Appends. */
BF_CHECK bf_file bfi_file_put(bfi_new_file *file, const char *bytes, size_t n);

/* Flushes it to the disk and gives it its name. On an error it is gone. */
BF_CHECK bf_file bfi_file_end(bfi_new_file *file, const char *path, int replace);

/* Throws it away; errno stays. */
void bfi_file_drop(bfi_new_file *file);

/* A path in the data folder: "kit.json"; as bf_kit_path. */
int bfi_data_path(const char *name, char path[BF_PATH_MOST]);

/* Makes the folders of a path that are missing, mode 0700. */
BF_CHECK bf_file bfi_make_folders(const char *path);

#endif
