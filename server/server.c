#include "baitfall/server.h"

#include "server/files.h"

#include <arpa/inet.h>
#include <errno.h>
#include <fcntl.h>
#include <microhttpd.h>
#include <netinet/in.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <sys/socket.h>
#include <unistd.h>

#define MOST_CONNECTIONS 64u
#define MOST_SILENCE_S 15u
#define CONNECTION_BYTES ((size_t)16 * 1024)

struct bf_server {
    struct MHD_Daemon *daemon;
    int folder_fd;
    int port;
};

const char *bf_serve_words(bf_serve_status status) {
    static const char *const words[] = {
#define BF_SERVE_WORDS(name, words) words,
        BF_SERVE_LIST(BF_SERVE_WORDS)
#undef BF_SERVE_WORDS
    };
    return words[status];
}

/* ---- who may ask ---- */

/* Is `host` one of this machine's own names followed by this port? Port 80 is the one a browser leaves out.
 */
static int is_own_host(const char *host, int port) {
    static const char *const names[] = {"localhost", "127.0.0.1", "[::1]"};
    char colon_port[8];
    snprintf(colon_port, sizeof colon_port, ":%d", port);
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        size_t n = strlen(names[i]);
        if (strncasecmp(host, names[i], n) != 0) continue;
        if (strcmp(host + n, colon_port) == 0) return 1;
        if (port == 80 && host[n] == '\0') return 1;
    }
    return 0;
}

static int is_own_origin(const char *origin, int port) {
    static const char scheme[] = "http://";
    return strncmp(origin, scheme, sizeof scheme - 1) == 0 && is_own_host(origin + sizeof scheme - 1, port);
}

typedef struct who_asks {
    int port;
    int n_hosts, n_own_hosts;
    int n_foreign_origins;
} who_asks;

static enum MHD_Result note_header(void *closure, enum MHD_ValueKind kind, const char *key,
                                   const char *value) {
    who_asks *who = closure;
    (void)kind;
    if (strcasecmp(key, "Host") == 0) {
        who->n_hosts++;
        who->n_own_hosts += value && is_own_host(value, who->port);
    } else if (strcasecmp(key, "Origin") == 0) {
        who->n_foreign_origins += !(value && is_own_origin(value, who->port));
    }
    return MHD_YES;
}

static int may_ask(struct MHD_Connection *connection, int port) {
    who_asks who = {.port = port};
    MHD_get_connection_values(connection, MHD_HEADER_KIND, note_header, &who);
    return who.n_hosts == 1 && who.n_own_hosts == 1 && who.n_foreign_origins == 0;
}

/* ---- answers ---- */

/* The page needs its own scripts, its wasm, and nothing from anywhere else. index.html says the same for
 * hosts that send no headers of their own. */
static const struct {
    const char *name, *value;
} every_answer[] = {
    {"Content-Security-Policy",
     "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; img-src 'self'; font-src "
     "'self'; "
     "connect-src 'self'; manifest-src 'self'; worker-src 'self'; base-uri 'none'; form-action 'none'; "
     "frame-ancestors 'none'"},
    {"X-Content-Type-Options", "nosniff"},
    {"Referrer-Policy", "no-referrer"},
    {"Cross-Origin-Opener-Policy", "same-origin"},
    {"Cross-Origin-Resource-Policy", "same-origin"},
    {"Cache-Control", "no-cache"},
};

static enum MHD_Result send_answer(struct MHD_Connection *connection, unsigned status,
                                   struct MHD_Response *response) {
    if (!response) return MHD_NO;
    int is_whole = 1;
    for (size_t i = 0; i < sizeof every_answer / sizeof every_answer[0]; i++)
        is_whole &= MHD_add_response_header(response, every_answer[i].name, every_answer[i].value) == MHD_YES;
    enum MHD_Result result = is_whole ? MHD_queue_response(connection, status, response) : MHD_NO;
    MHD_destroy_response(response);
    return result;
}

static struct MHD_Response *say(const char *sentence) {
    struct MHD_Response *response = MHD_create_response_from_buffer(
        strlen(sentence), (void *)(uintptr_t)sentence, MHD_RESPMEM_PERSISTENT); /* persistent: only read */
    if (response)
        MHD_add_response_header(response, MHD_HTTP_HEADER_CONTENT_TYPE, "text/plain; charset=utf-8");
    return response;
}

/* Does If-None-Match name this tag? It is a list of quoted tags, some with W/ before them, or a star. */
static int has_tag(struct MHD_Connection *connection, const char *etag) {
    const char *known =
        MHD_lookup_connection_value(connection, MHD_HEADER_KIND, MHD_HTTP_HEADER_IF_NONE_MATCH);
    return known && (strcmp(known, "*") == 0 || strstr(known, etag) != NULL);
}

static enum MHD_Result send_file(struct MHD_Connection *connection, bfi_file *file) {
    int is_known = has_tag(connection, file->etag);
    struct MHD_Response *response = is_known
                                        ? MHD_create_response_from_buffer(0, NULL, MHD_RESPMEM_PERSISTENT)
                                        : MHD_create_response_from_fd64(file->size, file->fd);
    if (is_known || !response) close(file->fd); /* else the response closes it */
    if (response) {
        MHD_add_response_header(response, MHD_HTTP_HEADER_CONTENT_TYPE, file->type);
        MHD_add_response_header(response, MHD_HTTP_HEADER_ETAG, file->etag);
    }
    return send_answer(connection, is_known ? MHD_HTTP_NOT_MODIFIED : MHD_HTTP_OK, response);
}

static enum MHD_Result answer_request(void *closure, struct MHD_Connection *connection, const char *url,
                                      const char *method, const char *version, const char *upload,
                                      size_t *upload_size, void **state) {
    const bf_server *server = closure;
    (void)version, (void)upload;

    if (!may_ask(connection, server->port))
        return send_answer(connection, MHD_HTTP_FORBIDDEN,
                           say("Only this machine's own page may ask here.\n"));

    if (strcmp(method, MHD_HTTP_METHOD_GET) != 0 && strcmp(method, MHD_HTTP_METHOD_HEAD) != 0) {
        struct MHD_Response *response = say("Only GET and HEAD are answered here.\n");
        if (response) MHD_add_response_header(response, MHD_HTTP_HEADER_ALLOW, "GET, HEAD");
        return send_answer(connection, MHD_HTTP_METHOD_NOT_ALLOWED, response);
    }

    /* Called once after the headers, then after each piece of a body, then at the end. Only an answer given
     * at the end leaves the connection open for the next request; a body, which no GET needs, closes it. */
    int is_start = *state == NULL;
    *state = closure;
    if (is_start) return MHD_YES;
    if (*upload_size > 0) return MHD_NO;

    bfi_file file;
    if (!bfi_file_open(server->folder_fd, url, &file))
        return send_answer(connection, MHD_HTTP_NOT_FOUND, say("No such file in the page.\n"));
    return send_file(connection, &file);
}

/* The names of the page's files need no percent signs, so nothing is decoded and "%2e%2e" stays four letters.
 */
static size_t decode_nothing(void *closure, struct MHD_Connection *connection, char *text) {
    (void)closure, (void)connection;
    return strlen(text);
}

/* ---- start and stop ---- */

/* A listening socket on loopback, or -1 with the reason in *status. */
static int listen_on(int port, bf_serve_status *status) {
    int fd = socket(AF_INET, SOCK_STREAM | SOCK_CLOEXEC, 0);
    int yes = 1;
    struct sockaddr_in address = {.sin_family = AF_INET, .sin_port = htons((uint16_t)port)};
    address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    if (fd >= 0 && setsockopt(fd, SOL_SOCKET, SO_REUSEADDR, &yes, sizeof yes) == 0 &&
        bind(fd, (const struct sockaddr *)&address, sizeof address) == 0 && listen(fd, 32) == 0) {
        *status = BF_SERVE_OK;
        return fd;
    }
    *status = errno == EADDRINUSE ? BF_SERVE_E_PORT_TAKEN
              : errno == EACCES   ? BF_SERVE_E_PORT_DENIED
                                  : BF_SERVE_E_SYSTEM;
    if (fd >= 0) close(fd);
    return -1;
}

static int port_of(int fd) {
    struct sockaddr_in address;
    socklen_t size = sizeof address;
    if (getsockname(fd, (struct sockaddr *)&address, &size) != 0) return 0;
    return ntohs(address.sin_port);
}

static int open_folder(const char *folder) {
    int fd = open(folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    bfi_file index;
    if (fd < 0) return -1;
    if (!bfi_file_open(fd, "/", &index)) {
        close(fd);
        return -1;
    }
    close(index.fd);
    return fd;
}

bf_serve_status bf_serve_start(const bf_serve_options *options, bf_server **out) {
    *out = NULL;
    if (options->port < 0 || options->port > 65535) return BF_SERVE_E_PORT_RANGE;
    int folder_fd = open_folder(options->folder);
    if (folder_fd < 0) return BF_SERVE_E_FOLDER;

    bf_serve_status status;
    int listen_fd = listen_on(options->port, &status);
    if (listen_fd < 0) {
        close(folder_fd);
        return status;
    }

    bf_server *server = malloc(sizeof *server);
    if (server) {
        *server = (bf_server){.folder_fd = folder_fd, .port = port_of(listen_fd)};
        server->daemon = MHD_start_daemon(
            MHD_USE_EPOLL_INTERNAL_THREAD, 0, NULL, NULL, answer_request, server, MHD_OPTION_LISTEN_SOCKET,
            listen_fd, MHD_OPTION_CONNECTION_LIMIT, MOST_CONNECTIONS, MHD_OPTION_CONNECTION_TIMEOUT,
            MOST_SILENCE_S, MHD_OPTION_CONNECTION_MEMORY_LIMIT, CONNECTION_BYTES,
            MHD_OPTION_UNESCAPE_CALLBACK, decode_nothing, NULL, MHD_OPTION_END);
    }
    if (!server || !server->daemon) {
        free(server);
        close(listen_fd);
        close(folder_fd);
        return BF_SERVE_E_SYSTEM;
    }
    *out = server;
    return BF_SERVE_OK;
}

int bf_serve_port(const bf_server *server) {
    return server->port;
}

void bf_serve_stop(bf_server *server) {
    if (!server) return;
    MHD_stop_daemon(server->daemon); /* closes the listening socket too */
    close(server->folder_fd);
    free(server);
}
