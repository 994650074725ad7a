// What the core's steps cost for a full litter: reading it, folding it, assessing it.
#include <benchmark/benchmark.h>

#include "advice/assessment.hpp"
#include "full_litter.hpp"
#include "reference/tables.hpp"

namespace {

using namespace lampside;

void decode(benchmark::State& state) {
  const auto lines = bench::lines();
  for (auto _ : state)
    for (const auto& line : lines) benchmark::DoNotOptimize(record::decode_line(line));
  state.counters["entries"] = static_cast<double>(lines.size());
}
BENCHMARK(decode)->Unit(benchmark::kMillisecond);

void fold(benchmark::State& state) {
  const auto& entries = bench::entries();
  for (auto _ : state) benchmark::DoNotOptimize(record::fold(entries, "bench-2026", Zone{}));
}
BENCHMARK(fold)->Unit(benchmark::kMillisecond);

void assess(benchmark::State& state) {
  const auto& litter = bench::litter();
  const auto now = bench::its_end();
  for (auto _ : state) benchmark::DoNotOptimize(advice::assess(litter, reference::built_in(), now));
}
BENCHMARK(assess)->Unit(benchmark::kMillisecond);

/// What the supplies add to an assessment: a full litter with every item of the table written down.
void supplies(benchmark::State& state) {
  const auto& reference = reference::built_in();
  const auto now = bench::its_end() - std::chrono::hours{24 * 40};
  auto litter = bench::litter();
  for (const auto& row : reference.supplies) {
    record::Stock s{};
    s.item = std::string(row.item);
    s.have = Amount{1};
    litter.stock.push_back({now, s, "", "", ""});
  }
  const auto due = due::forecast(litter, reference, now);
  for (auto _ : state) {
    const auto plan = supplies::plan(litter, reference, now, due);
    benchmark::DoNotOptimize(supplies::findings(litter, reference, now, due, plan));
  }
}
BENCHMARK(supplies)->Unit(benchmark::kMicrosecond);

}  // namespace

BENCHMARK_MAIN();
