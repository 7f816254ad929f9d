/* serve_fuzz.c -- any bytes as the words of a request that `serve` decides by: one line each of Host, Origin, path,
 * If-None-Match and Accept-Encoding. Whatever they say, only this machine's own names are let in and only the three
 * files that may be seen are opened. */
#define _DEFAULT_SOURCE /* mkdtemp, symlink */

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <sys/stat.h>
#include <unistd.h>

#include <fcntl.h>

#include "baitfall/status.h"
#include "fuzz.h"
#include "server/decide.h"
#include "server/files.h"

#define PORT 8190

static char folder[] = "/tmp/baitfall-serve-fuzz-XXXXXX";
static const char *const seen[] = {"index.html", "index.html.gz", "part/x.txt"};
static const char *const unseen[] = {".secret", "part/.secret"};
static const char *const links[] = {"link.txt", "part/away"};

static const char *below(const char *name) {
    static char path[256];
    snprintf(path, sizeof path, "%s/%s", folder, name);
    return path;
}

static void make_file(const char *name) {
    FILE *file = fopen(below(name), "w");
    BF_ASSERT(file && fputs(name, file) >= 0 && fclose(file) == 0);
}

static void remove_folder(void) {
    for (size_t i = 0; i < 3; i++) remove(below(seen[i]));
    for (size_t i = 0; i < 2; i++) remove(below(unseen[i])), remove(below(links[i]));
    rmdir(below("part"));
    rmdir(folder);
}

static int make_folder(void) {
    BF_ASSERT(mkdtemp(folder) && mkdir(below("part"), 0700) == 0);
    atexit(remove_folder);
    for (size_t i = 0; i < 3; i++) make_file(seen[i]);
    for (size_t i = 0; i < 2; i++) make_file(unseen[i]);
    BF_ASSERT(symlink("/etc/passwd", below(links[0])) == 0 && symlink("/etc", below(links[1])) == 0);
    int fd = open(folder, O_RDONLY | O_DIRECTORY);
    BF_ASSERT(fd >= 0);
    return fd;
}

/* Is it one of the ways to say this machine, with the port? */
static int is_said(const char *host) {
    static const char *const own[] = {"localhost:8190", "127.0.0.1:8190", "[::1]:8190"};
    for (size_t i = 0; i < 3; i++)
        if (strcasecmp(host, own[i]) == 0) return 1;
    return 0;
}

static void check_file(const bfi_file *file) {
    char text[32] = "";
    ssize_t n = read(file->fd, text, sizeof text - 1);
    BF_ASSERT(n >= 0 && (uint64_t)n == file->size);
    int which = 0;
    while (which < 3 && strcmp(text, seen[which]) != 0) which++;
    BF_ASSERT(which < 3 && (which == 1) <= file->is_gzip);
    BF_ASSERT(strlen(file->etag) < sizeof file->etag - 1 && bfi_names_tag(file->etag, file->etag));
    close(file->fd);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    static int root_fd = -1;
    if (root_fd < 0) root_fd = make_folder();

    char *text = malloc(size + 1), *rest = text;
    if (!text) return 0;
    memcpy(text, data, size);
    text[size] = '\0';
    const char *word[5];
    for (size_t i = 0; i < 5; i++) {
        word[i] = rest;
        rest += strcspn(rest, "\n");
        if (*rest) *rest++ = '\0';
    }

    BF_ASSERT(bfi_is_own_host(word[0], PORT) == is_said(word[0]));
    BF_ASSERT(bfi_is_own_origin(word[1], PORT) ==
              (strncmp(word[1], "http://", 7) == 0 && is_said(word[1] + 7)));
    char name[BFI_MOST_NAME];
    size_t n = bfi_take_name(word[2], name);
    BF_ASSERT(n < BFI_MOST_NAME && (n == 0 || (strlen(name) == n && name[0] != '.' && !strchr(name, '/'))));
    int takes_gzip = bfi_takes_gzip(word[4]);
    BF_ASSERT(!takes_gzip || strchr(word[4], '*') || strcspn(word[4], "gG") < strlen(word[4]));
    bfi_file file;
    if (bfi_file_open(root_fd, word[2], takes_gzip, &file)) check_file(&file);
    BF_ASSERT(!bfi_names_tag(word[3], "\"1-2-3\"") || strchr(word[3], '*') || strchr(word[3], '"'));
    free(text);
    return 0;
}
