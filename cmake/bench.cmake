# Programs of `make bench`. No time is asserted anywhere; bench/run prints what it measured.
add_executable(fall_bench bench/fall_bench.c bench/p1_kernel.c)
target_link_libraries(fall_bench PRIVATE bf_feed Threads::Threads)
add_executable(record_bench bench/record_bench.c)
target_link_libraries(record_bench PRIVATE bf_record)
add_executable(bank_bench bench/bank_bench.c)
target_link_libraries(bank_bench PRIVATE bf_text)
