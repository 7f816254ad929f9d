/* calendar.h -- days and dates of the Gregorian calendar. Internal. */
#ifndef BFI_CALENDAR_H
#define BFI_CALENDAR_H

#include <stdint.h>

/* Days from 1970-01-01 to a date; year from 1, month 1 to 12. */
int64_t bfi_days_of(int year, int month, int day);

/* The date so many days after 1970-01-01; years from 1. */
void bfi_date_of(int64_t days, int *year, int *month, int *day);

int bfi_days_in_month(int year, int month);

#endif
