// What a message of a room sensor costs: read as JSON, held against the band, thinned.
#include <benchmark/benchmark.h>

#include <fmt/format.h>

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

}  // namespace

BENCHMARK_MAIN();
