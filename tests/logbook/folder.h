/* folder.h -- a folder of its own for a test. Test code only. */
#ifndef BAITFALL_TESTS_FOLDER_H
#define BAITFALL_TESTS_FOLDER_H

#include <dirent.h>
#include <ftw.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "baitfall/kit.h"

static char folder[64];

static inline int make_folder(void **state) {
    (void)state;
    strcpy(folder, "/tmp/baitfall-test-XXXXXX");
    return mkdtemp(folder) ? 0 : -1;
}

static inline int drop(const char *path, const struct stat *about, int kind, struct FTW *walk) {
    (void)about, (void)kind, (void)walk;
    return remove(path);
}

static inline int drop_folder(void **state) {
    (void)state;
    return nftw(folder, drop, 8, FTW_DEPTH | FTW_PHYS);
}

/* A path in the folder; four at a time. */
static inline const char *at(const char *name) {
    static char path[4][BF_PATH_MOST];
    static int next;
    char *mine = path[next++ % 4];
    snprintf(mine, BF_PATH_MOST, "%s/%s", folder, name);
    return mine;
}

static inline int n_files(void) {
    int n = 0;
    DIR *entries = opendir(folder);
    for (struct dirent *entry; (entry = readdir(entries));) n += entry->d_name[0] != '.';
    closedir(entries);
    return n;
}

#endif
