// What a list of turns at the teats costs: two days solved, as for every page. Aim: 16 pups at 8 teats under 50 ms.
#include <benchmark/benchmark.h>

#include <fmt/format.h>

#include "nest/turns.hpp"

namespace {

using namespace lampside;

constexpr Instant kNow = std::chrono::sys_days{std::chrono::year{2026} / 10 / 7};

/// Pups, teats, their age in days, minutes of a session.
void turns(benchmark::State& state) {
  std::vector<record::Entry> entries;
  const auto add = [&](Instant at, std::string about, record::Body body) {
    entries.push_back(record::make_entry(fmt::format("00000000-0000-4000-8000-{:012x}", entries.size() + 1), "bench",
                                         Stamp{at}, Stamp{at}, "bench", std::move(about), std::move(body)));
  };
  const Instant born = kNow - std::chrono::hours{24 * state.range(2)};
  for (int n = 1; n <= state.range(0); ++n) {
    record::Birth b;
    b.grams = Grams{300.0 + 10 * n};
    add(born + Minutes{n}, std::to_string(n), b);
  }
  add(born + std::chrono::hours{1}, "",
      record::TeatTurns{true, static_cast<int>(state.range(1)), static_cast<int>(state.range(3)), {}, {}});
  const auto litter = record::fold(entries, "bench", Zone{});
  std::size_t shifts = 0;
  for (auto _ : state) {
    const auto t = nest::turns(litter, reference::built_in(), kNow);
    const auto* plan = reference::value_of(t.plan);
    shifts = plan ? plan->shifts.size() : 0;
  }
  state.counters["shifts"] = static_cast<double>(shifts);
}
BENCHMARK(turns)
    ->Unit(benchmark::kMillisecond)
    ->ArgNames({"pups", "teats", "days", "session"})
    ->Args({16, 8, 2, 45})
    ->Args({16, 8, 16, 45})
    ->Args({11, 8, 2, 45})
    ->Args({16, 6, 16, 45})
    ->Args({16, 4, 16, 30})
    ->Args({16, 4, 16, 45})
    ->Args({16, 3, 2, 30})
    ->Args({16, 3, 16, 30})
    ->Args({16, 2, 22, 30});

}  // namespace

BENCHMARK_MAIN();
