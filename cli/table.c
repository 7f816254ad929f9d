/* table.c -- see table.h. */
#include "cli/table.h"

#include <stdio.h>
#include <string.h>

#include "baitfall/status.h"
#include "cli/show.h"

void cli_table_start(cli_table *table, const char *const *heads) {
    memset(table, 0, sizeof *table);
    char(*row)[CLI_CELL_BYTES] = cli_table_row(table);
    for (; heads[table->n_columns]; table->n_columns++)
        snprintf(row[table->n_columns], CLI_CELL_BYTES, "%s", heads[table->n_columns]);
}

char (*cli_table_row(cli_table *table))[CLI_CELL_BYTES] {
    BF_ASSERT(table->n_rows < CLI_TABLE_ROWS);
    return table->cell[table->n_rows++];
}

static int widest(const cli_table *table, int column) {
    int most = 0;
    for (int r = 0; r < table->n_rows; r++) {
        int n = cli_columns(table->cell[r][column]);
        if (n > most) most = n;
    }
    return most;
}

/* Nothing is padded behind the last cell of a row that says something. */
static int last_said(const cli_table *table, int row) {
    int last = table->n_columns - 1;
    while (last > 0 && !table->cell[row][last][0]) last--;
    return last;
}

void cli_table_print(const cli_table *table) {
    for (int r = 0; r < table->n_rows; r++) {
        int last = last_said(table, r);
        for (int c = 0; c <= last; c++) {
            fputs("  ", stdout);
            cli_show_padded(table->cell[r][c], c < last ? widest(table, c) : 0);
        }
        fputc('\n', stdout);
    }
}
