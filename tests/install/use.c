/* A program of somebody else's, built against the installed library: one answer. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <baitfall/answer.h>
#include <baitfall/water.h>

int main(void) {
    static const char request[] = "{\"bait\":\"hard-4\",\"water\":{\"depth\":\"1.5 m\"},\"draws\":64}";
    const size_t most = 1u << 20;
    void *work = aligned_alloc(16, (bf_work_bytes("fall") + 15) / 16 * 16);
    char *out = malloc(most);
    size_t n = 0;
    if (!work || !out || bf_answer(work, "fall", request, strlen(request), out, most, &n)) return 1;
    printf("%.1f kg/m3, %s\n", bf_water_density_kg_m3(4.0), strstr(out, "\"time_s\"") ? "an answer" : "none");
    free(out);
    free(work);
    return 0;
}
