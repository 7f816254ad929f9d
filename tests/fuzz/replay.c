/* replay.c -- runs a fuzz target over every file of the folders named on the command line. Fails when there is none. */
#define _POSIX_C_SOURCE 200809L

#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>

#include "fuzz.h"

#define MOST_BYTES (2u << 20)

static int replay_file(const char *path) {
    uint8_t *data = malloc(MOST_BYTES);
    FILE *file = fopen(path, "rb");
    if (!data || !file) {
        perror(path);
        return 1;
    }
    size_t n = fread(data, 1, MOST_BYTES, file);
    fclose(file);
    // A block of exactly n bytes, so that a read past its end is seen.
    uint8_t *exact = malloc(n ? n : 1);
    for (size_t i = 0; exact && i < n; i++) exact[i] = data[i];
    if (exact) LLVMFuzzerTestOneInput(exact, n);
    free(exact);
    free(data);
    return 0;
}

static int replay_folder(const char *folder, int *n_files) {
    DIR *dir = opendir(folder);
    if (!dir) {
        perror(folder);
        return 1;
    }
    int failed = 0;
    for (struct dirent *entry; (entry = readdir(dir));) {
        char path[4096];
        if (entry->d_name[0] == '.') continue;
        snprintf(path, sizeof path, "%s/%s", folder, entry->d_name);
        failed |= replay_file(path);
        ++*n_files;
    }
    closedir(dir);
    return failed;
}

int main(int n_arguments, char **arguments) {
    int n_files = 0, failed = 0;
    for (int i = 1; i < n_arguments; i++) failed |= replay_folder(arguments[i], &n_files);
    printf("%d files replayed\n", n_files);
    return failed || !n_files;
}
