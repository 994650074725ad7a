// Any bytes as a journal: an answer, and what was taken can be written and read again as the same entries.
#include <cstdlib>
#include <sstream>

#include "exchange/jsonl.hpp"

extern "C" int LLVMFuzzerTestOneInput(const unsigned char* data, std::size_t size) {
  using namespace lampside;
  std::istringstream in{std::string(reinterpret_cast<const char*>(data), size)};
  const auto taken = exchange::read_jsonl(in);
  if (!taken) return taken.error().what.empty() ? std::abort(), 0 : 0;
  std::stringstream again;
  if (!exchange::write_jsonl(again, taken->entries)) std::abort();
  const auto second = exchange::read_jsonl(again);
  if (!second || !(second->entries == taken->entries)) std::abort();
  const auto zones = [](const std::string&) -> Result<Zone> { return Zone{}; };
  (void)exchange::admit({}, *taken, zones, exchange::Misfits::keep);
  return 0;
}
