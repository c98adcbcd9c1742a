/* Checks that say what they saw. */
#ifndef CHECK_H
#define CHECK_H

#include <stdio.h>

extern int checks_failed;
extern const char *check_name;

#define CHECK(condition) \
    do { \
        if (!(condition)) { \
            printf("%s:%d: %s: not true: %s\n", __FILE__, __LINE__, check_name, #condition); \
            checks_failed++; \
        } \
    } while (0)

#define CHECK_EQUAL(expected, actual) \
    do { \
        long long expected_ = (long long)(expected); \
        long long actual_ = (long long)(actual); \
        if (expected_ != actual_) { \
            printf("%s:%d: %s: %s: expected %lld, got %lld\n", __FILE__, __LINE__, check_name, #actual, expected_, actual_); \
            checks_failed++; \
        } \
    } while (0)

#define RUN(test) \
    do { \
        check_name = #test; \
        test(); \
    } while (0)

void frame_tests(void);
void vector_tests(const char *folder);
void device_tests(void);
void sampling_tests(void);
void store_tests(void);
void state_tests(const char *folder);
void dialogue_tests(const char *folder);

#endif
