// What a message of a room sensor costs: read as JSON, held against the band, thinned; and what the readings kept cost.
#include <benchmark/benchmark.h>

#include <fmt/format.h>

#include "advice/assessment.hpp"
#include "nest/sensor.hpp"

namespace {

using namespace lampside;

constexpr Instant kNow = std::chrono::sys_days{std::chrono::year{2026} / 10 / 7};

/// `state.range(0)`: sensors of one litter.
void messages(benchmark::State& state) {
  std::vector<record::Entry> entries;
  const auto add = [&](Instant at, std::string about, record::Body body) {
    entries.push_back(record::make_entry(fmt::format("00000000-0000-4000-8000-{:012x}", entries.size() + 1), "bench",
                                         Stamp{at}, Stamp{at}, "bench", std::move(about), std::move(body)));
  };
  add(kNow - std::chrono::hours{48}, "1", record::Birth{});
  std::vector<std::string> topics;
  for (int i = 0; i < state.range(0); ++i) {
    topics.push_back(fmt::format("house/box/{}", i));
    add(kNow, "", record::Sensor{topics.back(), record::AirPlace::under_lamp, "temperature", {}, {}});
  }
  nest::SensorDesk desk{reference::built_in()};
  desk.know(record::fold(entries, "bench", Zone{}), kNow);
  std::size_t n = 0, kept = 0;
  for (auto _ : state) {
    const auto text =
        fmt::format(R"({{"temperature":{:.2f},"humidity":55,"battery":97}})", 30.5 + 0.01 * static_cast<double>(n % 9));
    kept += desk.take(topics[n % topics.size()], text, false, kNow + Span{static_cast<std::int64_t>(n)}).has_value();
    ++n;
  }
  state.SetItemsProcessed(static_cast<std::int64_t>(n));
  state.counters["kept"] = static_cast<double>(kept);
}
BENCHMARK(messages)->Arg(1)->Arg(20);

/// What a litter costs to assess after four weeks of two sensors, each kept every quarter of an hour.
void assess(benchmark::State& state) {
  std::vector<record::Entry> entries;
  const auto add = [&](Instant at, std::string about, record::Body body) {
    entries.push_back(record::make_entry(fmt::format("00000000-0000-4000-8000-{:012x}", entries.size() + 1), "bench",
                                         Stamp{at}, Stamp{at}, "bench", std::move(about), std::move(body)));
  };
  const Instant born = kNow - std::chrono::hours{24 * 28};
  for (int n = 1; n <= 8; ++n) add(born, std::to_string(n), record::Birth{});
  add(born, "", record::Lamp{Watts{150}, Centimetres{80}, {}});
  add(born, "", record::Sensor{"box", record::AirPlace::under_lamp, {}, {}, {}});
  add(born, "", record::Sensor{"room", record::AirPlace::room, {}, {}, {}});
  for (int n = 0; n < 4 * 24 * 28; ++n) {
    add(born + Minutes{15 * n + 1}, "",
        record::Air{Celsius{27 + 0.1 * (n % 5)}, record::AirPlace::under_lamp, {}, "box", {}});
    add(born + Minutes{15 * n + 3}, "",
        record::Air{Celsius{20 + 0.1 * (n % 7)}, record::AirPlace::room, {}, "room", {}});
  }
  const auto litter = record::fold(entries, "bench", Zone{});
  for (auto _ : state) benchmark::DoNotOptimize(advice::assess(litter, reference::built_in(), kNow));
  state.counters["entries"] = static_cast<double>(entries.size());
}
BENCHMARK(assess)->Unit(benchmark::kMillisecond);

}  // namespace

BENCHMARK_MAIN();
