/* The server answered raw requests over loopback, as a hostile or broken client would send them. Expected
 * answers are HTTP's own (RFC 9110: 304, 403, 404, 405 with Allow, 414/431) and the rules of server.h. */
#define _DEFAULT_SOURCE /* mkdtemp, symlink */
#include "baitfall/server.h"

#include <arpa/inet.h>
#include <errno.h>
#include <netinet/in.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/socket.h>
#include <sys/stat.h>
#include <sys/time.h>
#include <unistd.h>

#include <cmocka.h>

static char folder[] = "/tmp/baitfall-server-XXXXXX";
static bf_server *server;
static char answer[256 * 1024];

static void write_file(const char *name, const char *text) {
    char path[256];
    snprintf(path, sizeof path, "%s/%s", folder, name);
    FILE *file = fopen(path, "w");
    assert_non_null(file);
    assert_true(fputs(text, file) >= 0);
    assert_int_equal(fclose(file), 0);
}

static void remove_name(const char *name) {
    char path[256];
    snprintf(path, sizeof path, "%s/%s", folder, name);
    assert_int_equal(remove(path), 0);
}

static const char *const names[] = {"index.html",    "core.wasm",  "app-1a.js", "app.css",
                                    "m.webmanifest", "font.woff2", ".secret",   "part/x.txt"};

static int start(void **state) {
    (void)state;
    char path[256];
    if (!mkdtemp(folder)) return -1;
    snprintf(path, sizeof path, "%s/part", folder);
    if (mkdir(path, 0700) != 0) return -1;
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) write_file(names[i], names[i]);
    snprintf(path, sizeof path, "%s/link.txt", folder);
    if (symlink("/etc/passwd", path) != 0) return -1;
    snprintf(path, sizeof path, "%s/away", folder);
    if (symlink("/etc", path) != 0) return -1;
    bf_serve_options options = {folder, 0, 0};
    return bf_serve_start(&options, &server) == BF_SERVE_OK ? 0 : -1;
}

static int stop(void **state) {
    (void)state;
    bf_serve_stop(server);
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) remove_name(names[i]);
    remove_name("link.txt");
    remove_name("away");
    remove_name("part");
    return rmdir(folder);
}

static int connect_to(const bf_server *one) {
    struct sockaddr_in to = {.sin_family = AF_INET, .sin_port = htons((uint16_t)bf_serve_port(one))};
    to.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    int fd = socket(AF_INET, SOCK_STREAM, 0);
    assert_true(fd >= 0);
    struct timeval most = {.tv_sec = 20};
    assert_int_equal(setsockopt(fd, SOL_SOCKET, SO_RCVTIMEO, &most, sizeof most), 0);
    if (connect(fd, (const struct sockaddr *)&to, sizeof to) == 0) return fd;
    close(fd);
    return -1;
}

/* Sends bytes, reads until the server closes (every request here asks for that), and keeps the text in
 * `answer`. */
static void send_raw(const char *bytes, size_t n) {
    int fd = connect_to(server);
    assert_true(fd >= 0);
    while (n > 0) {
        ssize_t sent = send(fd, bytes, n, MSG_NOSIGNAL);
        if (sent <= 0) break; /* refused half-way: the answer says why */
        bytes += sent;
        n -= (size_t)sent;
    }
    size_t got = 0;
    for (;;) {
        ssize_t more = recv(fd, answer + got, sizeof answer - 1 - got, 0);
        if (more <= 0) break;
        got += (size_t)more;
    }
    answer[got] = '\0';
    close(fd);
}

/* One request with a good Host, further header lines each ending in CR LF. */
static void ask(const char *method, const char *path, const char *headers) {
    char request[1024];
    int n = snprintf(request, sizeof request,
                     "%s %s HTTP/1.1\r\nHost: localhost:%d\r\n%sConnection: close\r\n\r\n", method, path,
                     bf_serve_port(server), headers);
    assert_true(n > 0 && n < (int)sizeof request);
    send_raw(request, (size_t)n);
}

static int status(void) {
    int code = 0;
    assert_int_equal(sscanf(answer, "HTTP/1.1 %d", &code), 1);
    return code;
}

static const char *body(void) {
    const char *end = strstr(answer, "\r\n\r\n");
    assert_non_null(end);
    return end + 4;
}

static void has_line(const char *line) {
    if (!strstr(answer, line)) fail_msg("no line \"%s\" in: %s", line, answer);
}

static void files_come_with_their_type_and_the_safety_headers(void **state) {
    (void)state;
    static const struct {
        const char *path, *type, *text;
    } rows[] = {
        {"/", "Content-Type: text/html; charset=utf-8\r\n", "index.html"},
        {"/index.html", "Content-Type: text/html; charset=utf-8\r\n", "index.html"},
        {"/core.wasm", "Content-Type: application/wasm\r\n", "core.wasm"},
        {"/app-1a.js", "Content-Type: text/javascript; charset=utf-8\r\n", "app-1a.js"},
        {"/app.css", "Content-Type: text/css; charset=utf-8\r\n", "app.css"},
        {"/m.webmanifest", "Content-Type: application/manifest+json\r\n", "m.webmanifest"},
        {"/font.woff2", "Content-Type: font/woff2\r\n", "font.woff2"},
        {"/part/x.txt", "Content-Type: text/plain; charset=utf-8\r\n", "part/x.txt"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ask("GET", rows[i].path, "");
        assert_int_equal(status(), 200);
        has_line(rows[i].type);
        has_line("X-Content-Type-Options: nosniff\r\n");
        has_line("Referrer-Policy: no-referrer\r\n");
        has_line("Cross-Origin-Resource-Policy: same-origin\r\n");
        has_line("Cross-Origin-Opener-Policy: same-origin\r\n");
        has_line("Permissions-Policy: geolocation=(), camera=(),");
        has_line("Content-Security-Policy: default-src 'none'; script-src 'self' 'wasm-unsafe-eval';");
        has_line("frame-ancestors 'none'");
        assert_string_equal(body(), rows[i].text);
    }
}

static void head_has_the_length_but_no_body(void **state) {
    (void)state;
    ask("HEAD", "/core.wasm", "");
    assert_int_equal(status(), 200);
    has_line("Content-Length: 9\r\n");
    assert_string_equal(body(), "");
}

static void a_known_tag_is_not_sent_again(void **state) {
    (void)state;
    char tag[64], header[128];
    ask("GET", "/app.css", "");
    assert_int_equal(sscanf(strstr(answer, "ETag: "), "ETag: %63[^\r]", tag), 1);
    assert_true(tag[0] == '"' && tag[strlen(tag) - 1] == '"');

    snprintf(header, sizeof header, "If-None-Match: \"other\", %s\r\n", tag);
    ask("GET", "/app.css", header);
    assert_int_equal(status(), 304);
    assert_string_equal(body(), "");

    ask("GET", "/app.css", "If-None-Match: \"other\"\r\n");
    assert_int_equal(status(), 200);
    assert_string_equal(body(), "app.css");
}

static void a_changed_file_has_another_tag(void **state) {
    (void)state;
    char before[64], after[64];
    ask("GET", "/app-1a.js", "");
    assert_int_equal(sscanf(strstr(answer, "ETag: "), "ETag: %63[^\r]", before), 1);
    write_file("app-1a.js", "app-1b.js");
    ask("GET", "/app-1a.js", "");
    assert_int_equal(sscanf(strstr(answer, "ETag: "), "ETag: %63[^\r]", after), 1);
    assert_string_not_equal(before, after);
    write_file("app-1a.js", "app-1a.js");
}

static void a_compressed_file_goes_to_who_takes_it(void **state) {
    (void)state;
    static const struct {
        const char *accepts; /* RFC 9110, 12.5.3 */
        int is_taken;
    } rows[] = {
        {"", 0},
        {"Accept-Encoding: gzip, deflate, br\r\n", 1},
        {"Accept-Encoding: br;q=1.0, GZIP ; q=0.5\r\n", 1},
        {"Accept-Encoding: *\r\n", 1},
        {"Accept-Encoding: *;q=0, gzip\r\n", 1},
        {"Accept-Encoding: gzip;q=0.001\r\n", 1},
        {"Accept-Encoding: gzip;q=0, *\r\n", 0},
        {"Accept-Encoding: gzip; q=0.000\r\n", 0},
        {"Accept-Encoding: gzipped, notgzip, br\r\n", 0},
        {"Accept-Encoding: identity\r\n", 0},
        {"Accept-Encoding: ,;,;q=0,,\r\n", 0},
    };
    char tag[2][64];
    write_file("app.css.gz", "packed app.css");
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ask("GET", "/app.css", rows[i].accepts);
        assert_int_equal(status(), 200);
        has_line("Content-Type: text/css; charset=utf-8\r\n");
        has_line("Vary: Accept-Encoding\r\n");
        int is_packed = strstr(answer, "Content-Encoding: gzip\r\n") != NULL;
        if (is_packed != rows[i].is_taken) fail_msg("%s gave %d", rows[i].accepts, is_packed);
        assert_string_equal(body(), is_packed ? "packed app.css" : "app.css");
        assert_int_equal(sscanf(strstr(answer, "ETag: "), "ETag: %63[^\r]", tag[is_packed]), 1);
    }
    assert_string_not_equal(tag[0], tag[1]);
    ask("GET", "/app-1a.js", "Accept-Encoding: gzip\r\n"); /* has none */
    assert_string_equal(body(), "app-1a.js");

    usleep(20000);
    write_file("app.css", "app.css"); /* newer than its compressed file */
    ask("GET", "/app.css", "Accept-Encoding: gzip\r\n");
    assert_string_equal(body(), "app.css");
    remove_name("app.css.gz");
}

static void nothing_outside_the_folder_is_reached(void **state) {
    (void)state;
    static const char *const paths[] = {
        "/../etc/passwd",
        "/part/../index.html",
        "/%2e%2e/etc/passwd",
        "/..%2fetc%2fpasswd",
        "/%2e%2e%2fetc/passwd",
        "//etc/passwd",
        "/./index.html",
        "/.secret",
        "/%2esecret",
        "/link.txt",
        "/away/passwd",
        "/part",
        "/part/",
        "/part/.",
        "/index.html/",
        "/index.html%00",
        "/index.html%00.png",
        "/INDEX.HTML",
        "/nothing",
        "/part/..",
        "/a\\b",
        "/index.html;x",
        "/\xff\xfe",
        "/~root",
    };
    for (size_t i = 0; i < sizeof paths / sizeof paths[0]; i++) {
        ask("GET", paths[i], "");
        if (status() != 404 && status() != 400) fail_msg("%s gave %d", paths[i], status());
        assert_null(strstr(answer, "root:"));
        assert_null(strstr(body(), ".secret"));
    }
}

static void a_path_longer_than_any_name_is_not_found(void **state) {
    (void)state;
    char path[602] = "/";
    memset(path + 1, 'a', 600);
    path[601] = '\0';
    ask("GET", path, "");
    assert_int_equal(status(), 404);
}

static void only_own_hosts_are_answered(void **state) {
    (void)state;
    int port = bf_serve_port(server);
    static const struct {
        const char *host; /* %d: the port */
        int code;
    } rows[] = {
        {"Host: localhost:%d\r\n", 200},
        {"Host: LOCALHOST:%d\r\n", 200},
        {"Host: 127.0.0.1:%d\r\n", 200},
        {"Host: [::1]:%d\r\n", 200},
        {"Host: lake.example:%d\r\n", 403},
        {"Host: localhost.lake.example:%d\r\n", 403},
        {"Host: localhost:%d.lake.example\r\n", 403},
        {"Host: localhost:1%d\r\n", 403},
        {"Host: localhost\r\n", 403},
        {"Host: \r\n", 403},
        {"Host: localhost:%d\r\nHost: lake.example\r\n", 403},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char host[128], request[256];
        snprintf(host, sizeof host, rows[i].host, port);
        int n = snprintf(request, sizeof request, "GET / HTTP/1.1\r\n%sConnection: close\r\n\r\n", host);
        send_raw(request, (size_t)n);
        if (status() != rows[i].code) fail_msg("%s gave %d", host, status());
    }
    static const char none[] = "GET / HTTP/1.1\r\nConnection: close\r\n\r\n";
    send_raw(none, sizeof none - 1);
    assert_true(status() == 400 || status() == 403); /* RFC 9112 3.2: no Host is 400 */
}

static void a_foreign_origin_is_refused(void **state) {
    (void)state;
    char own[96];
    snprintf(own, sizeof own, "Origin: http://localhost:%d\r\n", bf_serve_port(server));
    ask("GET", "/", own);
    assert_int_equal(status(), 200);
    ask("GET", "/", "Origin: https://lake.example\r\n");
    assert_int_equal(status(), 403);
    ask("GET", "/", "Origin: null\r\n");
    assert_int_equal(status(), 403);
    snprintf(own, sizeof own, "Origin: http://localhost:%d.lake.example\r\n", bf_serve_port(server));
    ask("GET", "/", own);
    assert_int_equal(status(), 403);
}

static void other_methods_are_405_and_say_what_is_allowed(void **state) {
    (void)state;
    static const char *const methods[] = {"PUT", "POST", "DELETE", "PATCH", "OPTIONS", "TRACE", "get"};
    for (size_t i = 0; i < sizeof methods / sizeof methods[0]; i++) {
        ask(methods[i], "/index.html", "Content-Length: 0\r\n");
        assert_int_equal(status(), 405);
        has_line("Allow: GET, HEAD\r\n");
    }
}

static void a_body_is_never_read(void **state) {
    (void)state;
    char request[256];
    int n = snprintf(request, sizeof request,
                     "GET /app.css HTTP/1.1\r\nHost: localhost:%d\r\nContent-Length: 5\r\n\r\nhello",
                     bf_serve_port(server));
    send_raw(request, (size_t)n);
    assert_null(strstr(answer, "200 OK"));
    ask("GET", "/app.css", "");
    assert_int_equal(status(), 200);
}

static void oversize_headers_and_request_lines_are_refused(void **state) {
    (void)state;
    size_t most = 64 * 1024;
    char *request = malloc(most);
    assert_non_null(request);
    int n = snprintf(request, most, "GET / HTTP/1.1\r\nHost: localhost:%d\r\nX: ", bf_serve_port(server));
    memset(request + n, 'a', most - (size_t)n);
    memcpy(request + most - 4, "\r\n\r\n", 4);
    send_raw(request, most);
    if (answer[0]) assert_in_range(status(), 400, 499); /* or closed without a word */
    assert_null(strstr(answer, "200 OK"));

    n = snprintf(request, most, "GET /");
    memset(request + n, 'a', most - (size_t)n);
    send_raw(request, most);
    if (answer[0]) assert_in_range(status(), 400, 499);
    assert_null(strstr(answer, "200 OK"));
    free(request);
}

static void headers_of_15_kib_are_accepted(void **state) {
    (void)state;
    size_t most = 15 * 1024;
    char *request = malloc(most);
    assert_non_null(request);
    int n = snprintf(request, most, "GET /app.css HTTP/1.1\r\nHost: localhost:%d\r\nConnection: close\r\nX: ",
                     bf_serve_port(server));
    memset(request + n, 'a', most - (size_t)n);
    memcpy(request + most - 4, "\r\n\r\n", 4);
    send_raw(request, most);
    assert_int_equal(status(), 200);
    free(request);
}

/* Until it has noticed that others are gone. */
static void ask_until_served(void) {
    answer[0] = '\0';
    for (int tries = 0; tries < 100 && !answer[0]; tries++) {
        if (tries) usleep(20000);
        ask("GET", "/app.css", "");
    }
    assert_int_equal(status(), 200);
}

static void more_connections_than_it_takes_leave_the_first_ones_served(void **state) {
    (void)state;
    int fd[80];
    char request[128];
    int n = snprintf(request, sizeof request,
                     "GET /app.css HTTP/1.1\r\nHost: localhost:%d\r\nConnection: close\r\n\r\n",
                     bf_serve_port(server));
    for (int i = 0; i < 80; i++) fd[i] = connect_to(server);
    assert_true(fd[0] >= 0);
    assert_int_equal(send(fd[0], request, (size_t)n, MSG_NOSIGNAL), n);
    ssize_t got = recv(fd[0], answer, sizeof answer - 1, 0);
    assert_true(got > 0);
    answer[got] = '\0';
    assert_int_equal(status(), 200);
    for (int i = 0; i < 80; i++)
        if (fd[i] >= 0) close(fd[i]);
    ask_until_served();
}

/* However the leaving of all falls in with its looks, it takes the next one in. */
static void a_full_house_that_leaves_at_once_leaves_its_places(void **state) {
    (void)state;
    for (int round = 0; round < 50; round++) {
        int fd[64];
        for (int i = 0; i < 64; i++) fd[i] = connect_to(server);
        usleep(100u * (unsigned)round);
        for (int i = 0; i < 64; i++)
            if (fd[i] >= 0) close(fd[i]);
        ask_until_served();
    }
}

static void broken_requests_do_not_stop_it(void **state) {
    (void)state;
    static const char *const requests[] = {
        "\r\n\r\n",
        "GET\r\n\r\n",
        "GET / HTTP/9.9\r\n\r\n",
        "\x16\x03\x01\x02\x01\x01\x01\xfc\x03\x03 not http\r\n\r\n",
        "GET / HTTP/1.1\r\nHost\r\nConnection: close\r\n\r\n",
        "POST / HTTP/1.1\r\nHost: localhost\r\nTransfer-Encoding: chunked\r\nContent-Length: 4\r\n"
        "Connection: close\r\n\r\nzz\r\n",
    };
    for (size_t i = 0; i < sizeof requests / sizeof requests[0]; i++) {
        int fd = connect_to(server);
        assert_true(fd >= 0);
        assert_true(send(fd, requests[i], strlen(requests[i]), MSG_NOSIGNAL) > 0);
        close(fd);
    }
    ask("GET", "/app.css", "");
    assert_int_equal(status(), 200);
}

static void pipelined_requests_are_answered_in_order(void **state) {
    (void)state;
    char request[512];
    int port = bf_serve_port(server);
    int n = snprintf(request, sizeof request,
                     "GET /app.css HTTP/1.1\r\nHost: localhost:%d\r\n\r\n"
                     "HEAD /index.html HTTP/1.1\r\nHost: localhost:%d\r\n\r\n"
                     "GET /core.wasm HTTP/1.1\r\nHost: localhost:%d\r\nConnection: close\r\n\r\n",
                     port, port, port);
    send_raw(request, (size_t)n);
    const char *css = strstr(answer, "\r\n\r\napp.css"), *html = strstr(answer, "text/html"),
               *wasm = strstr(answer, "\r\n\r\ncore.wasm");
    assert_non_null(css);
    assert_non_null(html);
    assert_non_null(wasm);
    assert_true(css < html && html < wasm);
}

static void a_connection_is_closed_after_its_thousandth_request(void **state) {
    (void)state;
    char request[128];
    int n = snprintf(request, sizeof request, "HEAD /app.css HTTP/1.1\r\nHost: localhost:%d\r\n\r\n",
                     bf_serve_port(server));
    int fd = connect_to(server), n_answers = 0;
    for (;; n_answers++) {
        if (send(fd, request, (size_t)n, MSG_NOSIGNAL) != n) break;
        ssize_t got = recv(fd, answer, sizeof answer - 1, 0);
        if (got <= 0) break;
        answer[got] = '\0';
        assert_int_equal(status(), 200);
        assert_int_equal(strstr(answer, "Connection: close\r\n") != NULL, n_answers == 999);
    }
    assert_int_equal(n_answers, 1000);
    close(fd);
}

/* Is there still somebody at the other end? */
static int is_open(int fd) {
    char byte;
    ssize_t got = recv(fd, &byte, 1, MSG_DONTWAIT | MSG_PEEK);
    return got > 0 || (got < 0 && errno == EAGAIN);
}

static void slow_clients_lose_their_place_and_others_wait_for_nobody(void **state) {
    (void)state;
    enum { MOST = 64, N_TENTHS = 50 };
    char request[256], path[256];
    static char large[8 << 20];
    memset(large, 'a', sizeof large - 1);
    write_file("large.js", large);
    bf_server *brisk, *usual = server;
    assert_int_equal(bf_serve_start(&(bf_serve_options){folder, 0, 1}, &brisk), BF_SERVE_OK);

    /* One sends nothing, one a header that never ends, one takes a large file and never reads it; the rest keep the
     * places full. */
    int fd[MOST];
    for (int i = 0; i < MOST; i++) fd[i] = connect_to(brisk);
    int n = snprintf(request, sizeof request, "GET /large.js HTTP/1.1\r\nHost: localhost:%d\r\n\r\n",
                     bf_serve_port(brisk));
    assert_int_equal(send(fd[2], request, (size_t)n, MSG_NOSIGNAL), n);
    int is_held = 1;
    for (int i = 0; i < N_TENTHS && is_held; i++) {
        send(fd[1], i < n - 2 ? request + i : "a", 1, MSG_NOSIGNAL);
        usleep(100000);
        is_held = is_open(fd[0]) || is_open(fd[1]);
    }
    assert_false(is_held);

    server = brisk; /* whoever comes now finds a place */
    ask("GET", "/app.css", "");
    assert_int_equal(status(), 200);
    server = usual;

    size_t got = 0;
    for (ssize_t more = 1; more > 0; got += (size_t)(more > 0 ? more : 0))
        more = recv(fd[2], large, sizeof large, 0);
    assert_true(got < sizeof large); /* cut off */
    for (int i = 0; i < MOST; i++) close(fd[i]);
    bf_serve_stop(brisk);
    snprintf(path, sizeof path, "%s/large.js", folder);
    assert_int_equal(remove(path), 0);
}

static void a_stop_waits_for_nobody(void **state) {
    (void)state;
    bf_server *second;
    assert_int_equal(bf_serve_start(&(bf_serve_options){folder, 0, 0}, &second), BF_SERVE_OK);
    int fd = connect_to(second);
    assert_int_equal(send(fd, "GET / HT", 8, MSG_NOSIGNAL), 8);
    usleep(50000);
    bf_serve_stop(second);
    assert_false(is_open(fd));
    close(fd);
}

static void it_listens_on_loopback_only(void **state) {
    (void)state;
    /* /proc/net/tcp lists the listening sockets (state 0A) with their address in hexadecimal. */
    char line[256], own[16];
    int n_listen = 0, n_loopback = 0;
    snprintf(own, sizeof own, ":%04X", (unsigned)bf_serve_port(server));
    FILE *table = fopen("/proc/net/tcp", "r");
    assert_non_null(table);
    while (fgets(line, sizeof line, table)) {
        char local[64], remote[64], state_code[8];
        if (sscanf(line, " %*d: %63s %63s %7s", local, remote, state_code) != 3) continue;
        if (strcmp(state_code, "0A") != 0 || !strstr(local, own)) continue;
        n_listen++;
        n_loopback += strncmp(local, "0100007F:", 9) == 0;
    }
    fclose(table);
    assert_int_equal(n_listen, 1);
    assert_int_equal(n_loopback, 1);
}

static void what_cannot_start_says_why(void **state) {
    (void)state;
    bf_server *other = server;
    bf_serve_options taken = {folder, bf_serve_port(server), 0};
    assert_int_equal(bf_serve_start(&taken, &other), BF_SERVE_E_PORT_TAKEN);
    assert_null(other);
    assert_int_equal(bf_serve_start(&(bf_serve_options){folder, 70000, 0}, &other), BF_SERVE_E_PORT_RANGE);
    assert_int_equal(bf_serve_start(&(bf_serve_options){folder, -1, 0}, &other), BF_SERVE_E_PORT_RANGE);
    assert_int_equal(bf_serve_start(&(bf_serve_options){"/nowhere/at/all", 0, 0}, &other), BF_SERVE_E_FOLDER);
    assert_int_equal(bf_serve_start(&(bf_serve_options){"/proc", 0, 0}, &other), BF_SERVE_E_FOLDER);
    for (int i = 0; i < BF_N_SERVE; i++) assert_true(strlen(bf_serve_words((bf_serve_status)i)) > 0);
    bf_serve_stop(NULL);
}

static void the_port_is_free_again_after_a_stop(void **state) {
    (void)state;
    bf_server *second, *third;
    assert_int_equal(bf_serve_start(&(bf_serve_options){folder, 0, 0}, &second), BF_SERVE_OK);
    int port = bf_serve_port(second);
    bf_serve_stop(second);
    assert_int_equal(bf_serve_start(&(bf_serve_options){folder, port, 0}, &third), BF_SERVE_OK);
    assert_int_equal(bf_serve_port(third), port);
    bf_serve_stop(third);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(files_come_with_their_type_and_the_safety_headers),
        cmocka_unit_test(head_has_the_length_but_no_body),
        cmocka_unit_test(a_known_tag_is_not_sent_again),
        cmocka_unit_test(a_changed_file_has_another_tag),
        cmocka_unit_test(a_compressed_file_goes_to_who_takes_it),
        cmocka_unit_test(nothing_outside_the_folder_is_reached),
        cmocka_unit_test(a_path_longer_than_any_name_is_not_found),
        cmocka_unit_test(only_own_hosts_are_answered),
        cmocka_unit_test(a_foreign_origin_is_refused),
        cmocka_unit_test(other_methods_are_405_and_say_what_is_allowed),
        cmocka_unit_test(a_body_is_never_read),
        cmocka_unit_test(oversize_headers_and_request_lines_are_refused),
        cmocka_unit_test(headers_of_15_kib_are_accepted),
        cmocka_unit_test(more_connections_than_it_takes_leave_the_first_ones_served),
        cmocka_unit_test(a_full_house_that_leaves_at_once_leaves_its_places),
        cmocka_unit_test(broken_requests_do_not_stop_it),
        cmocka_unit_test(pipelined_requests_are_answered_in_order),
        cmocka_unit_test(a_connection_is_closed_after_its_thousandth_request),
        cmocka_unit_test(slow_clients_lose_their_place_and_others_wait_for_nobody),
        cmocka_unit_test(a_stop_waits_for_nobody),
        cmocka_unit_test(it_listens_on_loopback_only),
        cmocka_unit_test(what_cannot_start_says_why),
        cmocka_unit_test(the_port_is_free_again_after_a_stop),
    };
    return cmocka_run_group_tests(tests, start, stop);
}
