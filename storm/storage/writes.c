/* Loaded before a program's other libraries: notes in a log, in their order, all that it does to files below a folder. */
#define _GNU_SOURCE
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <pthread.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/types.h>
#include <unistd.h>

#define NAME_BYTES 1024

static pthread_mutex_t order = PTHREAD_MUTEX_INITIALIZER;
static int log_file = -1;
static char folder[NAME_BYTES];

#define REAL(name) ((__typeof__(&name))real_##name())
#define FIND(name) \
  static void *real_##name(void) { \
    static void *found; \
    if (!found) found = dlsym(RTLD_NEXT, #name); \
    return found; \
  }

FIND(open)
FIND(open64)
FIND(write)
FIND(pwrite)
FIND(pwrite64)
FIND(ftruncate)
FIND(ftruncate64)
FIND(fsync)
FIND(fdatasync)
FIND(unlink)
FIND(rename)
FIND(mkdir)

__attribute__((constructor)) static void begin(void) {
  const char *wanted = getenv("WRITES_FOLDER");
  const char *log = getenv("WRITES_LOG");
  if (!wanted || !log || strlen(wanted) >= NAME_BYTES) return;
  strcpy(folder, wanted);
  log_file = REAL(open)(log, O_WRONLY | O_CREAT | O_APPEND | O_CLOEXEC, 0600);
}

static int is_below(const char *path) {
  size_t length = strlen(folder);
  return log_file >= 0 && strncmp(path, folder, length) == 0 && (path[length] == '/' || path[length] == 0);
}

static int path_of(int file, char *path) {
  char link[64];
  snprintf(link, sizeof link, "/proc/self/fd/%d", file);
  ssize_t length = readlink(link, path, NAME_BYTES - 1);
  if (length < 0) return 0;
  path[length] = 0;
  return is_below(path);
}

/* Kind, inode, place, then two texts or blobs, each after its length. */
static void note(char kind, uint64_t inode, uint64_t place, const void *first, uint32_t first_bytes,
                 const void *second, uint32_t second_bytes) {
  unsigned char head[25];
  head[0] = (unsigned char)kind;
  memcpy(head + 1, &inode, 8);
  memcpy(head + 9, &place, 8);
  memcpy(head + 17, &first_bytes, 4);
  memcpy(head + 21, &second_bytes, 4);
  if (REAL(write)(log_file, head, sizeof head) < 0) abort();
  if (first_bytes > 0 && REAL(write)(log_file, first, first_bytes) < 0) abort();
  if (second_bytes > 0 && REAL(write)(log_file, second, second_bytes) < 0) abort();
}

static void note_file(char kind, int file, uint64_t place, const void *bytes, uint32_t count) {
  char path[NAME_BYTES];
  struct stat info;
  int before = errno;
  if (path_of(file, path) && fstat(file, &info) == 0) {
    if (S_ISDIR(info.st_mode)) kind = kind == 's' ? 'S' : kind;
    note(kind, info.st_ino, place, path, (uint32_t)strlen(path), bytes, count);
  }
  errno = before;
}

static int opened(int (*real)(const char *, int, ...), const char *path, int flags, mode_t mode) {
  pthread_mutex_lock(&order);
  struct stat info;
  int made = (flags & O_CREAT) && stat(path, &info) != 0;
  int file = real(path, flags, mode);
  if (file >= 0 && made) note_file('c', file, 0, NULL, 0);
  else if (file >= 0 && (flags & O_TRUNC)) note_file('t', file, 0, NULL, 0);
  pthread_mutex_unlock(&order);
  return file;
}

#define OPEN(name) \
  int name(const char *path, int flags, ...) { \
    mode_t mode = 0; \
    if (flags & O_CREAT) { \
      va_list rest; \
      va_start(rest, flags); \
      mode = va_arg(rest, mode_t); \
      va_end(rest); \
    } \
    return opened(REAL(name), path, flags, mode); \
  }
OPEN(open)
OPEN(open64)

ssize_t write(int file, const void *bytes, size_t count) {
  pthread_mutex_lock(&order);
  off_t place = lseek(file, 0, SEEK_CUR);
  ssize_t written = REAL(write)(file, bytes, count);
  if (written > 0 && place >= 0) note_file('w', file, (uint64_t)place, bytes, (uint32_t)written);
  pthread_mutex_unlock(&order);
  return written;
}

#define PWRITE(name, offset) \
  ssize_t name(int file, const void *bytes, size_t count, offset place) { \
    pthread_mutex_lock(&order); \
    ssize_t written = REAL(name)(file, bytes, count, place); \
    if (written > 0) note_file('w', file, (uint64_t)place, bytes, (uint32_t)written); \
    pthread_mutex_unlock(&order); \
    return written; \
  }
PWRITE(pwrite, off_t)
PWRITE(pwrite64, off64_t)

#define TRUNCATE(name, offset) \
  int name(int file, offset length) { \
    pthread_mutex_lock(&order); \
    int failed = REAL(name)(file, length); \
    if (!failed) note_file('t', file, (uint64_t)length, NULL, 0); \
    pthread_mutex_unlock(&order); \
    return failed; \
  }
TRUNCATE(ftruncate, off_t)
TRUNCATE(ftruncate64, off64_t)

#define SYNC(name) \
  int name(int file) { \
    pthread_mutex_lock(&order); \
    int failed = REAL(name)(file); \
    if (!failed) note_file('s', file, 0, NULL, 0); \
    pthread_mutex_unlock(&order); \
    return failed; \
  }
SYNC(fsync)
SYNC(fdatasync)

int unlink(const char *path) {
  pthread_mutex_lock(&order);
  int failed = REAL(unlink)(path);
  if (!failed && is_below(path)) note('u', 0, 0, path, (uint32_t)strlen(path), NULL, 0);
  pthread_mutex_unlock(&order);
  return failed;
}

int rename(const char *from, const char *to) {
  pthread_mutex_lock(&order);
  int failed = REAL(rename)(from, to);
  if (!failed && is_below(from)) {
    note('r', 0, 0, from, (uint32_t)strlen(from), to, (uint32_t)strlen(to));
  }
  pthread_mutex_unlock(&order);
  return failed;
}

int mkdir(const char *path, mode_t mode) {
  pthread_mutex_lock(&order);
  int failed = REAL(mkdir)(path, mode);
  if (!failed && is_below(path)) note('m', 0, 0, path, (uint32_t)strlen(path), NULL, 0);
  pthread_mutex_unlock(&order);
  return failed;
}
