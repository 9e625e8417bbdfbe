/* Makes the Nth call of one function of the system fail; for tests, by LD_PRELOAD.
 *
 * FAIL_CALL   name: open write fsync rename read malloc ...
 * FAIL_AT     counts from 1; 0 or none: nothing fails
 * FAIL_AFTER  "one" (default): that call alone; "all": it and all that follow
 * FAIL_COUNT  a file that gets the number of calls when the process ends
 *
 * Reading and writing count only for files (not the three streams and not /proc or /etc): what
 * happens there is what the program is to be told of. */
#define _GNU_SOURCE
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <stdarg.h>
#include <stdatomic.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/socket.h>
#include <sys/stat.h>
#include <sys/types.h>
#include <unistd.h>

static atomic_long calls;
static long fail_at;
static int fail_all;
static const char* failing; /* null until the library is ready */

__attribute__((constructor)) static void begin(void) {
    const char* at = getenv("FAIL_AT");
    const char* after = getenv("FAIL_AFTER");
    fail_at = at != NULL ? atol(at) : 0;
    fail_all = after != NULL && strcmp(after, "all") == 0;
    failing = getenv("FAIL_CALL");
}

__attribute__((destructor)) static void end(void) {
    const char* path = getenv("FAIL_COUNT");
    const long counted = atomic_load(&calls);
    char text[32];
    const char* mine = failing;
    int file;
    failing = NULL;
    if (path == NULL || mine == NULL) {
        return;
    }
    file = open(path, O_WRONLY | O_CREAT | O_TRUNC, 0600);
    if (file >= 0) {
        const int length = snprintf(text, sizeof text, "%ld\n", counted);
        if (write(file, text, (size_t)length) < 0) {
            _exit(99);
        }
        close(file);
    }
}

static int fails(const char* name) {
    long number;
    if (failing == NULL || strcmp(failing, name) != 0) {
        return 0;
    }
    number = atomic_fetch_add(&calls, 1) + 1;
    return fail_at > 0 && (number == fail_at || (fail_all && number > fail_at));
}

/* Whether a descriptor is a regular file. */
static int is_file(int file) {
    struct stat status;
    return file > 2 && fstat(file, &status) == 0 && S_ISREG(status.st_mode);
}

static int is_ours(const char* path) {
    return strncmp(path, "/proc", 5) != 0 && strncmp(path, "/etc", 4) != 0 &&
           strncmp(path, "/usr", 4) != 0 && strncmp(path, "/sys", 4) != 0 &&
           strncmp(path, "/dev", 4) != 0;
}

#define REAL(type, name, ...)                                                                      \
    static type (*real)(__VA_ARGS__);                                                              \
    if (real == NULL) {                                                                            \
        *(void**)&real = dlsym(RTLD_NEXT, name);                                                   \
    }

#define OPEN(name)                                                                                 \
    int name(const char* path, int flags, ...) {                                                   \
        mode_t mode = 0;                                                                           \
        REAL(int, #name, const char*, int, ...)                                                    \
        if ((flags & O_CREAT) != 0) {                                                              \
            va_list list;                                                                          \
            va_start(list, flags);                                                                 \
            mode = va_arg(list, mode_t);                                                           \
            va_end(list);                                                                          \
        }                                                                                          \
        if (is_ours(path) && fails("open")) {                                                      \
            errno = EACCES;                                                                        \
            return -1;                                                                             \
        }                                                                                          \
        return real(path, flags, mode);                                                            \
    }
OPEN(open)
OPEN(open64)

ssize_t write(int file, const void* bytes, size_t count) {
    REAL(ssize_t, "write", int, const void*, size_t)
    if (failing != NULL && is_file(file) && fails("write")) {
        errno = ENOSPC;
        return -1;
    }
    return real(file, bytes, count);
}

#define PWRITE(name, offset_type)                                                                  \
    ssize_t name(int file, const void* bytes, size_t count, offset_type offset) {                  \
        REAL(ssize_t, #name, int, const void*, size_t, offset_type)                                \
        if (failing != NULL && is_file(file) && fails("write")) {                                  \
            errno = ENOSPC;                                                                        \
            return -1;                                                                             \
        }                                                                                          \
        return real(file, bytes, count, offset);                                                   \
    }
PWRITE(pwrite, off_t)
PWRITE(pwrite64, off64_t)

ssize_t read(int file, void* bytes, size_t count) {
    REAL(ssize_t, "read", int, void*, size_t)
    if (failing != NULL && is_file(file) && fails("read")) {
        errno = EIO;
        return -1;
    }
    return real(file, bytes, count);
}

#define PREAD(name, offset_type)                                                                   \
    ssize_t name(int file, void* bytes, size_t count, offset_type offset) {                        \
        REAL(ssize_t, #name, int, void*, size_t, offset_type)                                      \
        if (failing != NULL && is_file(file) && fails("read")) {                                   \
            errno = EIO;                                                                           \
            return -1;                                                                             \
        }                                                                                          \
        return real(file, bytes, count, offset);                                                   \
    }
PREAD(pread, off_t)
PREAD(pread64, off64_t)

size_t fread(void* bytes, size_t size, size_t count, FILE* file) {
    REAL(size_t, "fread", void*, size_t, size_t, FILE*)
    if (failing != NULL && is_file(fileno(file)) && fails("fread")) {
        errno = EIO;
        return 0;
    }
    return real(bytes, size, count, file);
}

size_t fwrite(const void* bytes, size_t size, size_t count, FILE* file) {
    REAL(size_t, "fwrite", const void*, size_t, size_t, FILE*)
    if (failing != NULL && is_file(fileno(file)) && fails("fwrite")) {
        errno = ENOSPC;
        return 0;
    }
    return real(bytes, size, count, file);
}

#define ONE_FILE(name, call)                                                                       \
    int name(int file) {                                                                           \
        REAL(int, #name, int)                                                                      \
        if (failing != NULL && fails(call)) {                                                      \
            errno = EIO;                                                                           \
            return -1;                                                                             \
        }                                                                                          \
        return real(file);                                                                         \
    }
ONE_FILE(fsync, "fsync")
ONE_FILE(fdatasync, "fsync")

/* What goes to a server and comes from it: the connection is gone then. */
ssize_t send(int file, const void* bytes, size_t count, int flags) {
    REAL(ssize_t, "send", int, const void*, size_t, int)
    if (fails("send")) {
        shutdown(file, SHUT_RDWR);
        errno = ECONNRESET;
        return -1;
    }
    return real(file, bytes, count, flags);
}

ssize_t recv(int file, void* bytes, size_t count, int flags) {
    REAL(ssize_t, "recv", int, void*, size_t, int)
    if (fails("recv")) {
        shutdown(file, SHUT_RDWR);
        errno = ECONNRESET;
        return -1;
    }
    return real(file, bytes, count, flags);
}

int rename(const char* from, const char* to) {
    REAL(int, "rename", const char*, const char*)
    if (fails("rename")) {
        errno = EIO;
        return -1;
    }
    return real(from, to);
}

int renameat2(int from_folder, const char* from, int to_folder, const char* to, unsigned flags) {
    REAL(int, "renameat2", int, const char*, int, const char*, unsigned)
    if (fails("rename")) {
        errno = EIO;
        return -1;
    }
    if (fails("renameat2")) { /* a file system that does not know it */
        errno = EINVAL;
        return -1;
    }
    return real(from_folder, from, to_folder, to, flags);
}

int mkdir(const char* path, mode_t mode) {
    REAL(int, "mkdir", const char*, mode_t)
    if (fails("mkdir")) {
        errno = EACCES;
        return -1;
    }
    return real(path, mode);
}

int unlink(const char* path) {
    REAL(int, "unlink", const char*)
    if (fails("unlink")) {
        errno = EPERM;
        return -1;
    }
    return real(path);
}

int ftruncate64(int file, off64_t length) {
    REAL(int, "ftruncate64", int, off64_t)
    if (fails("ftruncate")) {
        errno = EIO;
        return -1;
    }
    return real(file, length);
}

/* dlsym() may allocate: memory goes by the names that the C library has of its own. */
extern void* __libc_malloc(size_t);
extern void* __libc_calloc(size_t, size_t);
extern void* __libc_realloc(void*, size_t);

void* malloc(size_t size) {
    if (failing != NULL && fails("malloc")) {
        errno = ENOMEM;
        return NULL;
    }
    return __libc_malloc(size);
}

void* calloc(size_t count, size_t size) {
    if (failing != NULL && fails("malloc")) {
        errno = ENOMEM;
        return NULL;
    }
    return __libc_calloc(count, size);
}

void* realloc(void* memory, size_t size) {
    if (failing != NULL && fails("malloc")) {
        errno = ENOMEM;
        return NULL;
    }
    return __libc_realloc(memory, size);
}
