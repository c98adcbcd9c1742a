#include "check.h"

int checks_failed;
const char *check_name = "";

int main(int argc, char **argv)
{
    if (argc != 2) {
        printf("usage: test folder-of-vectors\n");
        return 2;
    }
    frame_tests();
    vector_tests(argv[1]);
    device_tests();
    sampling_tests();
    store_tests();
    state_tests(argv[1]);
    dialogue_tests(argv[1]);
    printf(checks_failed ? "%d checks failed\n" : "all checks passed\n", checks_failed);
    return checks_failed != 0;
}
