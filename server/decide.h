/* decide.h -- what the words of a request allow. Pure: text in, a verdict out; no socket, no file. */
#ifndef BAITFALL_SERVER_DECIDE_H
#define BAITFALL_SERVER_DECIDE_H

#include <stddef.h>

#define BFI_MOST_NAME 128

/* Is `host` (of a Host header) one of this machine's own names followed by this port? Port 80 may be left out. */
int bfi_is_own_host(const char *host, int port);

/* Is `origin` (of an Origin header) http:// and such a host? */
int bfi_is_own_origin(const char *origin, int port);

/* Copies the part of a path before the next '/' with a NUL, and returns its length; 0 when it is not a name that is
 * served: empty, BFI_MOST_NAME bytes or more, beginning with a dot, or with other bytes than letters, digits and ._- */
size_t bfi_take_name(const char *path, char name[BFI_MOST_NAME]);

/* Does If-None-Match name this tag, quotes included? It is a list of quoted tags, some with W/ before them, or a star. */
int bfi_names_tag(const char *if_none_match, const char *etag);

/* Does Accept-Encoding allow gzip (RFC 9110, 12.5.3)? Its own line of the list decides, else a star; q=0 is a no. */
int bfi_takes_gzip(const char *accept_encoding);

#endif
