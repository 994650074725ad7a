// What the forecast of whelping costs: one with 40 clues (aim: under 5 ms), and 20,000 simulated pregnancies (aim:
// under 60 s on 2 cores).
#include <benchmark/benchmark.h>

#include <cmath>

#include "due/forecast.hpp"
#include "rehearse/due.hpp"

namespace {

using namespace lampside;
using std::chrono::hours;

constexpr Instant kMated = std::chrono::sys_days{std::chrono::year{2026} / 3 / 3};

template <class T>
void note(std::vector<record::Noted<T>>& to, double day, T what) {
  to.push_back({kMated + hours{std::lround(24 * day)}, std::move(what), "", "", ""});
}

/// 40 entries: matings, dates of the cycle, progesterone before and after, scans, an X-ray, temperatures, signs.
record::Litter forty_clues() {
  record::Litter litter{};
  litter.facts.dam.emplace();
  litter.facts.dam->breed = "Golden Retriever";
  litter.facts.dam->kg = Kilograms{30};
  for (const double day : {0.0, 2.0, 4.0}) note(litter.matings, day, record::Mating{});
  note(litter.lh_surges, -1, record::LhSurge{});
  note(litter.ovulations, 1, record::Ovulation{});
  note(litter.dioestrus, 7, record::Dioestrus{});
  for (const auto& [day, ng] : {std::pair{-3.0, 0.9}, {-1.0, 2.6}, {1.0, 5.1}, {2.0, 7.4}})
    note(litter.progesterone, day, record::Progesterone{NgPerMl{ng}});
  for (const auto& [day, mm] : {std::pair{28.0, 16.0}, {28.0, 17.0}, {30.0, 19.0}})
    note(litter.foetal_measures, day, record::FoetalMeasure{"ICC", Millimetres{mm}});
  for (const double mm : {21.0, 22.0}) note(litter.foetal_measures, 50, record::FoetalMeasure{"BPD", Millimetres{mm}});
  note(litter.counts, 56, record::PupCount{record::CountMethod::xray, 8, {}});
  for (int i = 0; i < 3; ++i)
    note(litter.earlier, -400, record::EarlierLitter{record::Anchor::mating, Days{62.0 + i}, {}, {}, {}, {}});
  for (int i = 0; i < 15; ++i)
    note(litter.dam_temperatures, 57 + 0.39 * i, record::Temperature{Celsius{i < 14 ? 37.9 : 37.3}, {}});
  for (const double day : {60.0, 62.0})
    note(litter.progesterone, day, record::Progesterone{NgPerMl{day < 61 ? 4.4 : 2.1}});
  for (const auto sign : {record::Sign::nesting, record::Sign::off_food, record::Sign::panting, record::Sign::mucus})
    note(litter.signs, 62.2, record::SignSeen{sign});
  return litter;
}

void forecast_of_forty_clues(benchmark::State& state) {
  const auto litter = forty_clues();
  const Instant now = kMated + hours{24 * 62 + 12};
  for (auto _ : state) benchmark::DoNotOptimize(due::forecast(litter, reference::built_in(), now));
  state.counters["entries"] = static_cast<double>(
      litter.matings.size() + litter.lh_surges.size() + litter.ovulations.size() + litter.dioestrus.size() +
      litter.progesterone.size() + litter.foetal_measures.size() + litter.counts.size() + litter.earlier.size() +
      litter.dam_temperatures.size() + litter.signs.size());
}
BENCHMARK(forecast_of_forty_clues)->Unit(benchmark::kMillisecond);

/// Wall time, on all cores. `--benchmark_filter=20000` measures the promise; the small one shows that it runs.
void rehearse_pregnancies(benchmark::State& state) {
  for (auto _ : state)
    benchmark::DoNotOptimize(rehearse::rehearse(static_cast<int>(state.range(0)), 1, rehearse::World{}));
}
BENCHMARK(rehearse_pregnancies)->Arg(200)->Arg(20000)->Unit(benchmark::kSecond)->UseRealTime()->Iterations(1);

}  // namespace

BENCHMARK_MAIN();
