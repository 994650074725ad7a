// What the litter's model of weights costs: 12 pups weighed three times a day for 60 days, filtered, smoothed and every
// round checked for slips (aim: under 3 ms); and 10,000 rehearsed litters (aim: under 60 s on 2 cores).
#include <benchmark/benchmark.h>

#include <cmath>
#include <random>

#include "growth/standing.hpp"
#include "growth/tracker.hpp"
#include "record/litter.hpp"
#include "rehearse/weights.hpp"

namespace {

using namespace lampside;

constexpr Instant kBorn = std::chrono::sys_days{std::chrono::year{2026} / 3 / 3};

record::Litter sixty_days() {
  std::mt19937_64 dice(7);
  std::normal_distribution<double> noise(0, 0.008);
  const growth::PaceModel usual(reference::built_in());
  std::vector<record::Entry> entries;
  const auto tell = [&](Instant at, int pup, record::Body body) {
    const Stamp stamp = Zone{}.stamp(at);
    std::string id = "00000000-0000-4000-8000-000000000000";
    const std::string number = std::to_string(entries.size());
    id.replace(id.size() - number.size(), number.size(), number);
    entries.push_back(
        record::make_entry(std::move(id), "bench-2026", stamp, stamp, "bench", std::to_string(pup), std::move(body)));
  };
  for (int pup = 1; pup <= 12; ++pup) {
    record::Birth birth{};
    birth.grams = Grams{340.0 + 10 * pup};
    tell(kBorn + std::chrono::minutes{30 * pup}, pup, birth);
  }
  for (int round = 2; round < 182; ++round)
    for (int pup = 1; pup <= 12; ++pup) {
      const double change = usual.expected_change(Days{0}, Days{round / 3.0}) + noise(dice);
      tell(kBorn + std::chrono::hours{8 * round} + std::chrono::minutes{pup}, pup,
           record::Weight{Grams{std::round((340.0 + 10 * pup) * std::exp(change))}, {}, {}});
    }
  return record::fold(entries, "bench-2026", Zone{});
}

void follow_sixty_days(benchmark::State& state) {
  const auto litter = sixty_days();
  const Instant now = kBorn + std::chrono::hours{24 * 61};
  for (auto _ : state) benchmark::DoNotOptimize(growth::follow(litter, reference::built_in(), now));
}
BENCHMARK(follow_sixty_days)->Unit(benchmark::kMillisecond);

void rehearse_litters(benchmark::State& state) {
  rehearse::WeightsWorld world;
  world.litters = static_cast<int>(state.range(0));
  for (auto _ : state) benchmark::DoNotOptimize(rehearse::rehearse_weights(world));
}
BENCHMARK(rehearse_litters)->Arg(100)->Arg(10000)->Unit(benchmark::kSecond)->UseRealTime()->Iterations(1);

}  // namespace

BENCHMARK_MAIN();
