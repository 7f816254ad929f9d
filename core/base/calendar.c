/* calendar.c -- see calendar.h. Counted in years that begin with March: then leap days come last. */
#include "core/base/calendar.h"

#define DAYS_TO_1970 719468 /* from 0000-03-01 */
#define DAYS_OF_400_YEARS 146097

/* Days from the first of March to the first of a month, months counted from March. */
static int days_to_month(int month_from_march) {
    return (153 * month_from_march + 2) / 5;
}

int64_t bfi_days_of(int year, int month, int day) {
    int from_march = month > 2 ? month - 3 : month + 9;
    int64_t y = year - (month <= 2);
    int64_t day_of_year = days_to_month(from_march) + day - 1;
    return y * 365 + y / 4 - y / 100 + y / 400 + day_of_year - DAYS_TO_1970; // years from 1 on
}

void bfi_date_of(int64_t days, int *year, int *month, int *day) {
    int64_t z = days + DAYS_TO_1970; // above 0 here
    int64_t era = z / DAYS_OF_400_YEARS, of_era = z % DAYS_OF_400_YEARS;
    int64_t y = (of_era - of_era / 1460 + of_era / 36524 - of_era / (DAYS_OF_400_YEARS - 1)) / 365;
    int of_year = (int)(of_era - (365 * y + y / 4 - y / 100));
    int from_march = (5 * of_year + 2) / 153;
    *day = of_year - days_to_month(from_march) + 1;
    *month = from_march < 10 ? from_march + 3 : from_march - 9;
    *year = (int)(y + era * 400) + (*month <= 2);
}

int bfi_days_in_month(int year, int month) {
    static const int days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    int is_leap = (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
    return days[month - 1] + (month == 2 && is_leap);
}
