// The forecast against a second computation, in another language and by other sums (oracle/PROVENANCE.md): the rows are
// read as they lie there, no Python is needed.
#include <gtest/gtest.h>

#include <array>
#include <charconv>
#include <fstream>
#include <map>
#include <vector>

#include "forecasts.hpp"

namespace lampside::testing {
namespace {

constexpr Instant kZero = std::chrono::sys_days{std::chrono::year{2026} / 3 / 1};

std::vector<std::vector<std::string>> rows_of(const std::string& file) {
  std::ifstream in(std::string(LAMPSIDE_DUE_ORACLE) + "/" + file);
  std::vector<std::vector<std::string>> out;
  std::string line;
  std::getline(in, line);  // what the columns are
  while (std::getline(in, line)) {
    std::vector<std::string> cells(1);
    for (const char c : line)
      if (c == ',')
        cells.emplace_back();
      else
        cells.back() += c;
    out.push_back(std::move(cells));
  }
  return out;
}
double number(const std::string& cell) {
  double out = std::nan("");
  std::from_chars(cell.data(), cell.data() + cell.size(), out);
  return out;
}

struct Record {
  record::Litter litter{};
  Instant now;
};

void read_into(Record& to, const std::string& kind, const std::string& third, double figure) {
  record::Litter& litter = to.litter;
  if (kind == "dam") {
    litter.facts.dam.emplace();
    if (!third.empty()) litter.facts.dam->breed = third;
    if (figure > 0) litter.facts.dam->kg = Kilograms{figure};
    return;
  }
  const Instant at = kZero + std::chrono::minutes(std::llround(60 * number(third)));
  const auto earlier = [&](record::Anchor from) {
    litter.earlier.push_back(noted(at, record::EarlierLitter{from, Days{figure}, {}, {}, {}, {}}));
  };
  const auto count = [&](record::CountMethod method) {
    litter.counts.push_back(noted(at, record::PupCount{method, static_cast<int>(std::lround(figure)), {}}));
  };
  if (kind == "now")
    to.now = at;
  else if (kind == "mating")
    litter.matings.push_back(noted(at, record::Mating{}));
  else if (kind == "lh_surge")
    litter.lh_surges.push_back(noted(at, record::LhSurge{}));
  else if (kind == "ovulation")
    litter.ovulations.push_back(noted(at, record::Ovulation{}));
  else if (kind == "dioestrus")
    litter.dioestrus.push_back(noted(at, record::Dioestrus{}));
  else if (kind == "progesterone")
    litter.progesterone.push_back(noted(at, record::Progesterone{NgPerMl{figure}}));
  else if (kind == "ICC" || kind == "BPD")
    litter.foetal_measures.push_back(noted(at, record::FoetalMeasure{kind, Millimetres{figure}}));
  else if (kind == "xray")
    count(record::CountMethod::xray);
  else if (kind == "ultrasound")
    count(record::CountMethod::ultrasound);
  else if (kind == "earlier_lh_surge")
    earlier(record::Anchor::lh_surge);
  else if (kind == "earlier_ovulation")
    earlier(record::Anchor::ovulation);
  else if (kind == "earlier_mating")
    earlier(record::Anchor::mating);
  else if (kind == "temperature")
    litter.dam_temperatures.push_back(noted(at, record::Temperature{Celsius{figure}, {}}));
  else if (const auto sign = record::from_name<record::Sign>(kind))
    litter.signs.push_back(noted(at, record::SignSeen{*sign}));
  else
    ADD_FAILURE() << "a kind this test does not know: " << kind;
}

std::map<std::string, Record> records() {
  std::map<std::string, Record> out;
  for (const auto& row : rows_of("records.csv")) {
    if (row.size() != 4) {
      ADD_FAILURE() << "a row of " << row.size() << " cells";
      continue;
    }
    read_into(out[row[0]], row[1], row[2], number(row[3]));
  }
  return out;
}

TEST(Oracle, FiftyRecordsHourByHour) {
  const auto cases = records();
  ASSERT_EQ(cases.size(), 50u);
  std::map<std::string, due::Forecast> said;
  for (const auto& [name, one] : cases) {
    auto f = forecast_of(one.litter, one.now);
    ASSERT_TRUE(f) << "case " << name;
    said.emplace(name, *std::move(f));
  }
  double worst = 0;
  const auto rows = rows_of("densities.csv");
  ASSERT_GT(rows.size(), 400u);
  for (const auto& row : rows) {
    ASSERT_EQ(row.size(), 3u);
    const auto& f = said.at(row[0]);
    const auto cell = (kZero + std::chrono::hours{std::lround(number(row[1]))} - f.from) / std::chrono::hours{1};
    ASSERT_TRUE(cell >= 0 && cell < static_cast<long>(f.density.size())) << "case " << row[0];
    const double got = std::log(f.density[static_cast<std::size_t>(cell)]), want = number(row[2]);
    EXPECT_NEAR(got, want, 1e-6) << "case " << row[0] << ", hour " << row[1];
    worst = std::max(worst, std::abs(got - want));
  }
  RecordProperty("worst", fmt::format("{:.1e}", worst));
  // The check can fail: another hour of the same record is farther off than that.
  const auto& f = said.at(rows[4][0]);
  const auto next = (kZero + std::chrono::hours{std::lround(number(rows[4][1])) + 1} - f.from) / std::chrono::hours{1};
  EXPECT_GT(std::abs(std::log(f.density[static_cast<std::size_t>(next)]) - number(rows[4][2])), 1e-6);
}

}  // namespace
}  // namespace lampside::testing
