/* server.h -- serves the folder of the built page over HTTP to this machine only.
 *
 * Listens on 127.0.0.1 and nowhere else. Answers GET and HEAD for files below the folder; nothing is written,
 * nothing runs, nothing outside the folder can be reached.
 *
 * A request is answered only if
 *   - its one Host header is localhost, 127.0.0.1 or [::1] with this port (else 403: a foreign name that was
 * made to point here must not read the page's answers);
 *   - its Origin header, where it has one, is one of those hosts by http (else 403);
 *   - its method is GET or HEAD (else 405 with Allow);
 *   - its path is made of the letters, digits and ._- of the page's own file names, no part starts with a
 * dot, and no part is a symbolic link (else 404; "/" is index.html). Percent signs are not decoded: no file
 * needs them.
 *
 * Every answer carries a Content-Security-Policy, nosniff, no-referrer and same-origin headers; files carry a
 * strong ETag (304 when If-None-Match names it), and go out as the file with .gz after their name where the
 * request accepts gzip and that file lies beside them, not older.
 *
 * A request's line and headers may take 15 KiB together (more ends the connection, with 431 or 414 where that
 * can still be said). 64 connections at most stand at once, each for 1000 requests at most, and each request
 * has patience_s from the end of the one before, or from connecting, until the last byte of its answer is
 * taken: silence, one byte at a time and never reading end alike.
 */
#ifndef BAITFALL_SERVER_H
#define BAITFALL_SERVER_H

#ifdef __cplusplus
extern "C" {
#endif

#define BF_SERVE_PORT 8190
#define BF_SERVE_PATIENCE_S 15

typedef struct bf_serve_options {
    const char *folder; /* the built page; must hold index.html                           */
    int port;           /* 1 .. 65535; 0: any free port, bf_serve_port then says which one */
    int patience_s;     /* for one request; 0: BF_SERVE_PATIENCE_S                        */
} bf_serve_options;

/* X(name, words): the words complete the sentence "The page is not served: ...". */
#define BF_SERVE_LIST(X)                                                                                     \
    X(BF_SERVE_OK, "it is")                                                                                  \
    X(BF_SERVE_E_FOLDER, "the folder cannot be opened or holds no index.html")                               \
    X(BF_SERVE_E_PORT_RANGE, "the port is not between 0 and 65535")                                          \
    X(BF_SERVE_E_PORT_TAKEN, "another program already listens on the port")                                  \
    X(BF_SERVE_E_PORT_DENIED, "the system does not allow this port")                                         \
    X(BF_SERVE_E_SYSTEM, "the system gave no socket, thread or memory")

typedef enum bf_serve_status {
#define BF_SERVE_NAME(name, words) name,
    BF_SERVE_LIST(BF_SERVE_NAME)
#undef BF_SERVE_NAME
        BF_N_SERVE
} bf_serve_status;

/* The words of BF_SERVE_LIST; static. */
const char *bf_serve_words(bf_serve_status status);

typedef struct bf_server bf_server;

/* Starts serving on a thread of its own and returns at once.
 *
 * options  not NULL; folder is opened now and stays open, so a later rename of it does not matter
 * server   written; NULL on any error. The caller ends it with bf_serve_stop.
 *
 * Example  { "build/page", BF_SERVE_PORT, 0 } -> http://localhost:8190/ */
bf_serve_status bf_serve_start(const bf_serve_options *options, bf_server **server);

/* The port it listens on. */
int bf_serve_port(const bf_server *server);

/* Ends all connections and the thread, and frees; NULL is fine. */
void bf_serve_stop(bf_server *server);

#ifdef __cplusplus
}
#endif
#endif
