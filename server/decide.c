#include "server/decide.h"

#include <stdio.h>
#include <string.h>
#include <strings.h>

int bfi_is_own_host(const char *host, int port) {
    static const char *const names[] = {"localhost", "127.0.0.1", "[::1]"};
    char colon_port[16];
    snprintf(colon_port, sizeof colon_port, ":%d", port);
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        size_t n = strlen(names[i]);
        if (strncasecmp(host, names[i], n) != 0) continue;
        if (strcmp(host + n, colon_port) == 0) return 1;
        if (port == 80 && host[n] == '\0') return 1;
    }
    return 0;
}

int bfi_is_own_origin(const char *origin, int port) {
    static const char scheme[] = "http://";
    return strncmp(origin, scheme, sizeof scheme - 1) == 0 &&
           bfi_is_own_host(origin + sizeof scheme - 1, port);
}

static int is_name_byte(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '.' ||
           c == '_' || c == '-';
}

size_t bfi_take_name(const char *path, char name[BFI_MOST_NAME]) {
    size_t n = 0;
    for (; path[n] != '\0' && path[n] != '/'; n++) {
        if (n + 1 >= BFI_MOST_NAME || !is_name_byte(path[n])) return 0;
        name[n] = path[n];
    }
    if (n == 0 || name[0] == '.') return 0;
    name[n] = '\0';
    return n;
}

int bfi_names_tag(const char *if_none_match, const char *etag) {
    return strcmp(if_none_match, "*") == 0 || strstr(if_none_match, etag) != NULL;
}

/* Is what follows a coding's name ("; q=0.000") a weight of nothing? */
static int has_no_weight(const char *rest, size_t n) {
    static const char blank[] = " \t";
    size_t at = strspn(rest, " \t;");
    if (at + 2 > n || (rest[at] != 'q' && rest[at] != 'Q') || rest[at + 1] != '=') return 0;
    for (at += 2; at < n && !strchr(blank, rest[at]); at++)
        if (rest[at] != '0' && rest[at] != '.') return 0;
    return 1;
}

int bfi_takes_gzip(const char *accept_encoding) {
    int of_star = 0;
    for (const char *at = accept_encoding; *at;) {
        at += strspn(at, " \t,");
        size_t n = strcspn(at, ","), n_name = strcspn(at, " \t;,");
        int is_wanted = !has_no_weight(at + n_name, n - n_name);
        if (n_name == 4 && strncasecmp(at, "gzip", 4) == 0) return is_wanted;
        if (n_name == 1 && *at == '*') of_star = is_wanted;
        at += n;
    }
    return of_star;
}
