// What the core's steps cost for a full litter: reading it, folding it, assessing it.
#include <benchmark/benchmark.h>

#include <string>

#include "advice/assessment.hpp"
#include "full_litter.hpp"
#include "record/litter.hpp"
#include "reference/tables.hpp"

namespace {

using namespace lampside;

const std::vector<record::Entry>& entries() {
  static const auto all = bench::full_litter();
  return all;
}
const record::Litter& litter() {
  static const auto one = record::fold(entries(), "bench-2026", Zone{});
  return one;
}

void decode(benchmark::State& state) {
  std::vector<std::string> lines;
  for (const auto& e : entries()) lines.push_back(record::encode_line(e));
  for (auto _ : state)
    for (const auto& line : lines) benchmark::DoNotOptimize(record::decode_line(line));
  state.counters["entries"] = static_cast<double>(lines.size());
}
BENCHMARK(decode)->Unit(benchmark::kMillisecond);

void fold(benchmark::State& state) {
  for (auto _ : state) benchmark::DoNotOptimize(record::fold(entries(), "bench-2026", Zone{}));
}
BENCHMARK(fold)->Unit(benchmark::kMillisecond);

void assess(benchmark::State& state) {
  for (auto _ : state) benchmark::DoNotOptimize(advice::assess(litter(), reference::built_in(), bench::its_end()));
}
BENCHMARK(assess)->Unit(benchmark::kMillisecond);

}  // namespace

BENCHMARK_MAIN();
