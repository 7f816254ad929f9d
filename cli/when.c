/* when.c -- see when.h. */
#define _DEFAULT_SOURCE

#include "cli/when.h"

#include <math.h>
#include <string.h>
#include <time.h>

#include "baitfall/journal.h"
#include "baitfall/unit.h"

#define LIVE_PM_S 5.0
#define MINUTE_PM_S 30.0
#define HALF_HOUR_S 1800 /* clocks are put back by one hour, some by half of it */
#define AHEAD_MS 60000.0 /* clocks differ a little; more than this is a slip */

static int east_of(time_t at) {
    struct tm local;
    if (!localtime_r(&at, &local)) return 0;
    return (int)((timegm(&local) - at) / 60);
}

cli_when cli_now(void) {
    struct timespec now;
    clock_gettime(CLOCK_REALTIME, &now);
    return (cli_when){(double)now.tv_sec * 1000 + (double)(now.tv_nsec / 1000000), east_of(now.tv_sec),
                      LIVE_PM_S};
}

/* ---- So long ago ---- */

/* 1: read; 0: not understood; -2: before 1970. */
static int read_ago(const char *text, cli_when *when) {
    static const char ago[] = " ago";
    bf_quantity span;
    int says_pm;
    size_t n = strlen(text);
    if (n <= strlen(ago) || strcmp(text + n - strlen(ago), ago) != 0) return 0;
    if (bf_quantity_read(text, n - strlen(ago), BF_TIME, &span, &says_pm) != BF_OK || span.is_unknown ||
        span.value < 0)
        return 0;
    *when = cli_now();
    if (span.value > when->ms / 1000) return -2;
    when->ms -= floor(span.value * 1000);
    when->east_min = east_of((time_t)(when->ms / 1000));
    when->pm_s = says_pm ? span.pm : span.value / 5 > MINUTE_PM_S ? span.value / 5 : MINUTE_PM_S;
    return 1;
}

/* ---- A day and a clock time ---- */

/* Reads `n` digits at most and goes past them; -1 when there is none. */
static int read_digits(const char **at, int most) {
    int number = 0, n = 0;
    for (; n < most && **at >= '0' && **at <= '9'; n++) number = number * 10 + *(*at)++ - '0';
    return n > 0 ? number : -1;
}

static int skip(const char **at, const char *word) {
    size_t n = strlen(word);
    if (strncmp(*at, word, n) != 0) return 0;
    *at += n;
    return 1;
}

static int days_of(int year, int month) {
    static const int days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    int is_leap = (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
    return days[month - 1] + (month == 2 && is_leap);
}

/* The day in front of a clock time, into the calendar's day; today when there is none. 0: it is no day. */
static int read_day(const char **at, struct tm *calendar) {
    if (skip(at, "today ")) return 1;
    if (skip(at, "yesterday ")) {
        calendar->tm_mday--;
        return 1;
    }
    const char *date = *at;
    int year = read_digits(&date, 4);
    if (*date != '-') return 1;
    date++;
    int month = read_digits(&date, 2);
    if (*date != '-') return 0;
    date++;
    int day = read_digits(&date, 2);
    if (year < 1970 || month < 1 || month > 12 || day < 1 || day > days_of(year, month) ||
        (*date != ' ' && *date != 'T'))
        return 0;
    *at = date + 1;
    calendar->tm_year = year - 1900;
    calendar->tm_mon = month - 1;
    calendar->tm_mday = day;
    return 1;
}

/* "11:42" or "11:42:07" to the end of the text. */
static int read_clock(const char *at, struct tm *calendar, int *has_seconds) {
    calendar->tm_hour = read_digits(&at, 2);
    if (*at != ':') return 0;
    at++;
    calendar->tm_min = read_digits(&at, 2);
    calendar->tm_sec = 0;
    *has_seconds = *at == ':';
    if (*has_seconds) {
        at++;
        calendar->tm_sec = read_digits(&at, 2);
    }
    return *at == 0 && calendar->tm_hour >= 0 && calendar->tm_hour < 24 && calendar->tm_min >= 0 &&
           calendar->tm_min < 60 && calendar->tm_sec >= 0 && calendar->tm_sec < 60;
}

static int shows(time_t at, const struct tm *calendar) {
    struct tm shown;
    return localtime_r(&at, &shown) && shown.tm_mday == calendar->tm_mday &&
           shown.tm_hour == calendar->tm_hour && shown.tm_min == calendar->tm_min;
}

/* When a clock is put back it shows the same time twice: the later instant is meant, unless it is still to come. */
static time_t choose_of_two(time_t at, const struct tm *calendar) {
    time_t now = (time_t)(cli_now().ms / 1000), chosen = at;
    for (time_t other = at - 2 * HALF_HOUR_S; other <= at + 2 * HALF_HOUR_S; other += HALF_HOUR_S)
        if (shows(other, calendar) && (other <= now || chosen > now)) chosen = other;
    return chosen;
}

/* 1: read; 0: not understood; -1: the local clock never showed this. */
static int read_local(const char *text, cli_when *when) {
    time_t now = (time_t)(cli_now().ms / 1000);
    struct tm calendar;
    int has_seconds;
    if (!localtime_r(&now, &calendar)) return 0;
    if (!read_day(&text, &calendar) || !read_clock(text, &calendar, &has_seconds)) return 0;
    int hour = calendar.tm_hour, minute = calendar.tm_min;
    calendar.tm_isdst = -1;
    time_t at = mktime(&calendar);
    if (calendar.tm_hour != hour || calendar.tm_min != minute || !shows(at, &calendar)) return -1;
    at = choose_of_two(at, &calendar);
    *when = (cli_when){(double)at * 1000, east_of(at), has_seconds ? LIVE_PM_S : MINUTE_PM_S};
    return 1;
}

static int read_instant(const char *text, cli_when *when) {
    when->pm_s = LIVE_PM_S;
    return bf_instant_read(text, strlen(text), &when->ms, &when->east_min) == BF_OK;
}

cli_exit cli_read_when(const cli_command *command, const char *text, cli_when *when) {
    char said[CLI_WHEN_BYTES];
    cli_when now = cli_now();
    *when = now;
    if (!text || strcmp(text, "now") == 0) return CLI_OK;
    int understood = read_ago(text, when);
    if (!understood) understood = read_instant(text, when);
    if (!understood) understood = read_local(text, when);
    if (understood == 0)
        return cli_say(command, CLI_USAGE,
                       "'%s' is no time known here; write 11:42, \"5 min ago\", \"yesterday 18:30\", "
                       "\"2026-04-12 09:31\" or an instant "
                       "such as 2026-04-12T09:31:05+01:00.",
                       text);
    if (understood == -2) return cli_say(command, CLI_BAD_INPUT, "'%s' is before 1970.", text);
    if (understood < 0)
        return cli_say(command, CLI_BAD_INPUT, "the local clock never showed '%s': it was put forward then.",
                       text);
    if (when->ms > now.ms + AHEAD_MS)
        return cli_say(command, CLI_BAD_INPUT,
                       "%s is still to come; for the day before write \"yesterday 18:30\".",
                       cli_say_when(when->ms, when->east_min, said));
    return CLI_OK;
}

int cli_read_clock_after(const char *text, double after_ms, int east_min, double *ms) {
    const double minute_ms = 60000, day_ms = 86400000;
    struct tm calendar;
    int has_seconds;
    if (!read_clock(text, &calendar, &has_seconds)) return 0;
    double clock_ms = 1000 * (3600.0 * calendar.tm_hour + 60.0 * calendar.tm_min + calendar.tm_sec);
    double local_ms = minute_ms * floor(after_ms / minute_ms) + minute_ms * east_min;
    double day = floor(local_ms / day_ms) * day_ms;
    if (day + clock_ms < local_ms) day += day_ms;
    *ms = day + clock_ms - minute_ms * east_min;
    return 1;
}

const char *cli_say_when(double ms, int east_min, char out[CLI_WHEN_BYTES]) {
    static const char *const months[] = {"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                                         "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
    time_t at = (time_t)floor(ms / 1000) + (time_t)east_min * 60;
    int east = east_min < 0 ? -east_min : east_min;
    struct tm c;
    out[0] = 0;
    if (gmtime_r(&at, &c))
        snprintf(out, CLI_WHEN_BYTES, "%02d:%02d:%02d on %d %s %d (%c%02d:%02d)", c.tm_hour, c.tm_min,
                 c.tm_sec, c.tm_mday, months[c.tm_mon], c.tm_year + 1900, east_min < 0 ? '-' : '+',
                 east / 60 % 24, east % 60);
    return out;
}
