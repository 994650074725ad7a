// Any bytes as a sheet of weights: an answer, and every entry taken passes the journal's own checks.
#include <cstdlib>
#include <sstream>

#include "exchange/weights_csv.hpp"

extern "C" int LLVMFuzzerTestOneInput(const unsigned char* data, std::size_t size) {
  using namespace lampside;
  record::Litter litter;
  litter.key = "fuzz";
  const Instant born{std::chrono::sys_days{std::chrono::year{2026} / 3 / 1} + std::chrono::hours{2}};
  for (const char* label : {"1", "2"}) {
    record::Pup pup;
    pup.label = label;
    pup.birth.at = born;
    pup.birth.what.collar = *label == '1' ? "Red" : "Blue";
    litter.pups.push_back(std::move(pup));
  }
  exchange::WeightsOptions options;
  if (size % 2 == 1) options.born = born;
  if (size % 3 == 1) options.dates = exchange::DateOrder::day_month_year;
  std::istringstream in{std::string(reinterpret_cast<const char*>(data), size)};
  const auto read = exchange::read_weights_csv(in, litter, options);
  if (!read) return read.error().what.empty() ? std::abort(), 0 : 0;
  if (read->taken.entries.size() != read->taken.lines.size()) std::abort();
  for (const auto& e : read->taken.entries)
    if (!record::check(e) || !record::decode_line(record::encode_line(e))) std::abort();
  return 0;
}
