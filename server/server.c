#include "baitfall/server.h"

#include <arpa/inet.h>
#include <errno.h>
#include <fcntl.h>
#include <microhttpd.h>
#include <netinet/in.h>
#include <poll.h>
#include <pthread.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <sys/socket.h>
#include <time.h>
#include <unistd.h>

#include "server/decide.h"
#include "server/files.h"

#define MOST_CONNECTIONS 64
#define MOST_REQUESTS 1000 /* on one connection */
#define CONNECTION_BYTES ((size_t)16 * 1024)

/* One connection: since when its next request is waited for, and how many were answered. */
typedef struct client {
    int fd; /* -1: a free place */
    long long since_ms;
    int n_answered;
} client;

struct bf_server {
    struct MHD_Daemon *daemon;
    client clients[MOST_CONNECTIONS];
    long long patience_ms;
    int folder_fd;
    int port;
    int stop_fd[2]; /* a pipe: its closed end ends the thread */
    pthread_t thread;
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
        who->n_own_hosts += value && bfi_is_own_host(value, who->port);
    } else if (strcasecmp(key, "Origin") == 0) {
        who->n_foreign_origins += !(value && bfi_is_own_origin(value, who->port));
    }
    return MHD_YES;
}

static int may_ask(struct MHD_Connection *connection, int port) {
    who_asks who = {.port = port};
    MHD_get_connection_values(connection, MHD_HEADER_KIND, note_header, &who);
    return who.n_hosts == 1 && who.n_own_hosts == 1 && who.n_foreign_origins == 0;
}

/* ---- the clients, and how long one may keep a place ---- */

static long long now_ms(void) {
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return now.tv_sec * 1000ll + now.tv_nsec / 1000000;
}

static void note_connection(void *closure, struct MHD_Connection *connection, void **place,
                            enum MHD_ConnectionNotificationCode code) {
    bf_server *server = closure;
    if (code == MHD_CONNECTION_NOTIFY_CLOSED) {
        if (*place) ((client *)*place)->fd = -1;
        return;
    }
    int fd = MHD_get_connection_info(connection, MHD_CONNECTION_INFO_CONNECTION_FD)->connect_fd;
    for (int i = 0; i < MOST_CONNECTIONS && !*place; i++) {
        if (server->clients[i].fd >= 0) continue;
        server->clients[i] = (client){.fd = fd, .since_ms = now_ms()};
        *place = &server->clients[i];
    }
}

static client *client_of(struct MHD_Connection *connection) {
    return MHD_get_connection_info(connection, MHD_CONNECTION_INFO_SOCKET_CONTEXT)->socket_context;
}

static void note_answered(void *closure, struct MHD_Connection *connection, void **state,
                          enum MHD_RequestTerminationCode code) {
    client *asked = client_of(connection);
    (void)closure, (void)state, (void)code;
    asked->since_ms = now_ms();
    asked->n_answered++;
}

/* Ends every connection whose request has taken too long, sent or read byte by byte or not at all. Returns how many
 * connections there are. */
static int end_slow(bf_server *server) {
    long long oldest_ms = now_ms() - server->patience_ms;
    int n_clients = 0;
    for (int i = 0; i < MOST_CONNECTIONS; i++) {
        client *one = &server->clients[i];
        if (one->fd < 0) continue;
        n_clients++;
        if (one->since_ms < oldest_ms) shutdown(one->fd, SHUT_RDWR);
    }
    return n_clients;
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
    {"Permissions-Policy", "geolocation=(), camera=(), microphone=(), payment=(), usb=()"},
    {"Cache-Control", "no-cache"},
};

static enum MHD_Result send_answer(struct MHD_Connection *connection, unsigned status,
                                   struct MHD_Response *response) {
    if (!response) return MHD_NO;
    int is_whole = 1;
    for (size_t i = 0; i < sizeof every_answer / sizeof every_answer[0]; i++)
        is_whole &= MHD_add_response_header(response, every_answer[i].name, every_answer[i].value) == MHD_YES;
    if (client_of(connection)->n_answered + 1 >= MOST_REQUESTS)
        is_whole &= MHD_add_response_header(response, MHD_HTTP_HEADER_CONNECTION, "close") == MHD_YES;
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

/* A header of the request; empty when it has none. */
static const char *header_of(struct MHD_Connection *connection, const char *name) {
    const char *value = MHD_lookup_connection_value(connection, MHD_HEADER_KIND, name);
    return value ? value : "";
}

static enum MHD_Result send_file(struct MHD_Connection *connection, bfi_file *file) {
    int is_known = bfi_names_tag(header_of(connection, MHD_HTTP_HEADER_IF_NONE_MATCH), file->etag);
    struct MHD_Response *response = is_known
                                        ? MHD_create_response_from_buffer(0, NULL, MHD_RESPMEM_PERSISTENT)
                                        : MHD_create_response_from_fd64(file->size, file->fd);
    if (is_known || !response) close(file->fd); /* else the response closes it */
    if (response) {
        MHD_add_response_header(response, MHD_HTTP_HEADER_CONTENT_TYPE, file->type);
        MHD_add_response_header(response, MHD_HTTP_HEADER_ETAG, file->etag);
        MHD_add_response_header(response, MHD_HTTP_HEADER_VARY, MHD_HTTP_HEADER_ACCEPT_ENCODING);
        if (file->is_gzip) MHD_add_response_header(response, MHD_HTTP_HEADER_CONTENT_ENCODING, "gzip");
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
    int takes_gzip = bfi_takes_gzip(header_of(connection, MHD_HTTP_HEADER_ACCEPT_ENCODING));
    if (!bfi_file_open(server->folder_fd, url, takes_gzip, &file))
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
        bind(fd, (const struct sockaddr *)&address, sizeof address) == 0 &&
        listen(fd, MOST_CONNECTIONS) == 0) {
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
    if (!bfi_file_open(fd, "/", 0, &index)) {
        close(fd);
        return -1;
    }
    close(index.fd);
    return fd;
}

/* The thread: whatever comes and, while anybody is there, a look each second at who is slow; until the pipe's other end
 * is closed. */
static void *serve(void *closure) {
    enum { TICK_MS = 1000 };
    bf_server *server = closure;
    struct pollfd ready[] = {
        {.fd = MHD_get_daemon_info(server->daemon, MHD_DAEMON_INFO_EPOLL_FD)->epoll_fd, .events = POLLIN},
        {.fd = server->stop_fd[0], .events = POLLIN},
    };
    int n_clients = 0, has_left = 0;
    while (ready[1].revents == 0) {
        MHD_UNSIGNED_LONG_LONG has_work_ms;
        int has_work = MHD_get_timeout(server->daemon, &has_work_ms) == MHD_YES;
        poll(ready, 2, has_work || has_left ? 0 : n_clients > 0 ? TICK_MS : -1);
        MHD_run(server->daemon);
        int n_before = n_clients;
        n_clients = end_slow(server);
        /* A daemon that was full listens again from its next run on, and not before. */
        has_left = n_clients < n_before;
    }
    return NULL;
}

/* Signals are for the program's own thread; one that a broken connection causes is for nobody. */
static int start_thread(bf_server *server) {
    sigset_t all, before;
    sigfillset(&all);
    pthread_sigmask(SIG_BLOCK, &all, &before);
    int failed = pthread_create(&server->thread, NULL, serve, server);
    pthread_sigmask(SIG_SETMASK, &before, NULL);
    return !failed;
}

static void close_pipe(bf_server *server) {
    close(server->stop_fd[0]);
    close(server->stop_fd[1]);
}

/* A daemon on the listening socket and the thread that runs it: 1, or 0 with neither. */
static int start_daemon(bf_server *server, int listen_fd) {
    if (pipe(server->stop_fd) != 0) return 0;
    server->daemon = MHD_start_daemon(
        MHD_USE_EPOLL, 0, NULL, NULL, answer_request, server, MHD_OPTION_LISTEN_SOCKET, listen_fd,
        MHD_OPTION_CONNECTION_LIMIT, (unsigned)MOST_CONNECTIONS, MHD_OPTION_CONNECTION_MEMORY_LIMIT,
        CONNECTION_BYTES, MHD_OPTION_STRICT_FOR_CLIENT, 1, MHD_OPTION_NOTIFY_CONNECTION, note_connection,
        server, MHD_OPTION_NOTIFY_COMPLETED, note_answered, NULL, MHD_OPTION_UNESCAPE_CALLBACK,
        decode_nothing, NULL, MHD_OPTION_END);
    if (server->daemon && start_thread(server)) return 1;
    close_pipe(server);
    return 0;
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

    int patience_s = options->patience_s ? options->patience_s : BF_SERVE_PATIENCE_S;
    bf_server *server = malloc(sizeof *server);
    if (server) {
        *server = (bf_server){
            .patience_ms = patience_s * 1000ll, .folder_fd = folder_fd, .port = port_of(listen_fd)};
        for (int i = 0; i < MOST_CONNECTIONS; i++) server->clients[i].fd = -1;
    }
    if (!server || !start_daemon(server, listen_fd)) {
        if (server && server->daemon)
            MHD_stop_daemon(server->daemon); /* closes the listening socket too */
        else
            close(listen_fd);
        free(server);
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
    close(server->stop_fd[1]);
    pthread_join(server->thread, NULL);
    close(server->stop_fd[0]);
    MHD_stop_daemon(server->daemon); /* closes the listening socket too */
    close(server->folder_fd);
    free(server);
}
