// Entries for tests, made in one line each. Ids are numbered so that failures are readable.
#pragma once

#include <fmt/format.h>

#include "record/entry.hpp"
#include "record/litter.hpp"

namespace lampside::record::testing {

inline Stamp when(const char* iso) { return *parse_stamp(iso); }
inline EntryId id(int n) { return fmt::format("00000000-0000-4000-8000-{:012x}", n); }
inline Entry entry(int n, const char* at, std::string about, Body body) {
  return make_entry(id(n), "juniper-2026", when(at), when(at), "test", std::move(about), std::move(body));
}
inline Birth birth(double grams) {
  Birth b;
  b.grams = Grams{grams};
  return b;
}

}  // namespace lampside::record::testing
