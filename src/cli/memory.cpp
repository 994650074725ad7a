#include "cli/memory.hpp"

#include <cstdlib>

#ifdef __GLIBC__
#include <malloc.h>
#include <sys/mman.h>
#include <unistd.h>

#include <cstddef>
#endif

namespace lampside::cli {

#ifdef __GLIBC__
void begin_large_heap() {
  constexpr int kMegabyte = 1 << 20;
  // A journal is thousands of small pieces. Left alone, the thread that serves asks for 4 kB at a time, and each asking
  // and each first touch of a page takes longer than filling it, most of all on a virtual machine: half a cold start.
  mallopt(M_ARENA_MAX, 1);
  mallopt(M_TOP_PAD, 4 * kMegabyte);
  mallopt(M_TRIM_THRESHOLD, 32 * kMegabyte);
  mallopt(M_MMAP_THRESHOLD, 16 * kMegabyte);  // a picture's pixels are still returned at once
  const auto* const from = static_cast<char*>(sbrk(0));
  void* volatile room = std::malloc(14 * kMegabyte);  // or the compiler leaves both out
  std::free(room);
  auto* const to = static_cast<char*>(sbrk(0));
  constexpr std::ptrdiff_t kLargePage = 2 * kMegabyte;
  const std::ptrdiff_t whole = (to - from) / kLargePage * kLargePage;
  // The kernel takes whole pages from the start of one; refused, it is a heap like any other.
  if (whole > 0) (void)madvise(to - whole, static_cast<std::size_t>(whole), MADV_HUGEPAGE);
}
#else
void begin_large_heap() {}
#endif

}  // namespace lampside::cli
