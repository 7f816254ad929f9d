/* table.h -- a small table for people: columns as wide as their widest cell, two spaces between. */
#ifndef BAITFALL_CLI_TABLE_H
#define BAITFALL_CLI_TABLE_H

#define CLI_TABLE_ROWS 64
#define CLI_TABLE_COLUMNS 8
#define CLI_CELL_BYTES 96

typedef struct cli_table {
    int n_rows, n_columns;
    char cell[CLI_TABLE_ROWS][CLI_TABLE_COLUMNS][CLI_CELL_BYTES];
} cli_table;

/* Starts a table with its heads, NULL-ended. */
void cli_table_start(cli_table *table, const char *const *heads);

/* A new row, empty; returns its cells. The caller adds at most CLI_TABLE_ROWS - 1. */
char (*cli_table_row(cli_table *table))[CLI_CELL_BYTES];

void cli_table_print(const cli_table *table);

#endif
