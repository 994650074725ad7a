#include "exchange/weights_csv.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <map>
#include <utility>

#include "exchange/entry_id.hpp"
#include "exchange/sheet.hpp"
#include "exchange/words.hpp"

namespace lampside::exchange {
namespace {

using Role = Column::Role;
constexpr std::size_t kRowsShown = 5;

bool no_figure(std::string_view cell) {
  return cell.empty() || cell == "-" || cell == "\xE2\x80\x93" || cell == "\xE2\x80\x94";
}

std::string_view name_of_unit(WeightUnit unit) { return record::name_of(unit); }

/// One row a pup and one column a day: "Pup" above names, and nothing but days beside it.
bool turned(const Table& table) {
  const auto& titles = table.heading.cells;
  if (titles.size() < 2 || !names_pups(titles.front())) return false;
  std::vector<DayCell> days;
  for (std::size_t i = 1; i < titles.size(); ++i) days.push_back({table.heading.line, titles[i]});
  const auto column = DayReader::of_column(days, DateOrder::day_month_year);
  return column && std::all_of(days.begin(), days.end(), [&](const DayCell& d) { return column->read(d.text); });
}
Table turn(const Table& table) {
  const auto numbers =
      DayReader::of_column(std::array{DayCell{table.heading.line, table.heading.cells[1]}}, DateOrder::day_month_year);
  Table out{table.separator, {table.heading.line, {numbers && numbers->numbers() ? "day" : "date"}}, {}};
  for (const Row& row : table.rows) out.heading.cells.push_back(row.cells.front());
  for (std::size_t i = 1; i < table.heading.cells.size(); ++i) {
    Row& day = out.rows.emplace_back(Row{table.heading.line, {table.heading.cells[i]}});
    for (const Row& row : table.rows) day.cells.push_back(row.cells[i]);
  }
  return out;
}

class Reader {
 public:
  Reader(Table table, const record::Litter& litter, const WeightsOptions& options)
      : table_{std::move(table)}, litter_{litter}, options_{options}, names_{litter} {}

  Result<WeightsRead> read() {
    if (turned(table_)) {
      table_ = turn(table_);
      out_.understood.emplace_back("one row a pup, one column a day: read with rows and columns exchanged");
    }
    auto sheet = understand(table_, names_, options_);
    if (!sheet) return tl::unexpected(sheet.error());
    sheet_ = std::move(*sheet);
    const std::size_t day = *sheet_.first(Role::day);
    std::vector<DayCell> cells;
    for (const Row& row : table_.rows)
      if (has_weight(row)) cells.push_back({row.line, row.cells[day]});
    auto days = DayReader::of_column(cells, options_.dates);
    if (!days) return tl::unexpected(days.error());
    // "13" under "date" may be the 13th of a month as well as an age; under "day" it is an age.
    if (days->numbers() && folded(sheet_.columns[day].title) == "date")
      return tl::unexpected(at_line(
          cells.front().line,
          {"DATE_FORMAT",
           fmt::format("the column \"{}\" holds bare numbers, \"{}\"", sheet_.columns[day].title, cells.front().text),
           "write whole dates (2026-03-01), or call the column \"day\" if they count from the birth"}));
    std::vector<std::pair<When, const Row*>> rows;
    for (const Row& row : table_.rows) {
      if (!has_weight(row)) {
        out_.empty_cells += static_cast<std::size_t>(std::count_if(
            sheet_.columns.begin(), sheet_.columns.end(), [](const Column& c) { return c.role == Role::weight; }));
        continue;
      }
      auto when = moment_of(row, *days);
      if (!when) return tl::unexpected(at_line(row.line, when.error()));
      rows.emplace_back(*when, &row);
    }
    // By time, however the sheet is sorted: what comes first of a new pup is its birth.
    std::stable_sort(rows.begin(), rows.end(), [](const auto& a, const auto& b) {
      const auto when = [](const When& w) { return std::pair{*w.day, w.time.value_or(Minutes{0})}; };
      return when(a.first) < when(b.first);
    });
    for (const auto& [when, row] : rows)
      if (auto taken = take_row(*row, when); !taken) return tl::unexpected(at_line(row->line, taken.error()));
    describe(*days);
    return std::move(out_);
  }

 private:
  [[nodiscard]] bool has_weight(const Row& row) const {
    for (std::size_t i = 0; i < row.cells.size(); ++i)
      if (sheet_.columns[i].role == Role::weight && !no_figure(row.cells[i])) return true;
    return false;
  }

  [[nodiscard]] std::string cell(const Row& row, Role role) const {
    const auto i = sheet_.first(role);
    return i ? row.cells[*i] : "";
  }

  Result<When> moment_of(const Row& row, const DayReader& days) const {
    auto when = days.read(cell(row, Role::day));
    if (!when) return tl::unexpected(when.error());
    if (const std::string clock = cell(row, Role::time); !clock.empty()) {
      auto time = parse_clock(clock);
      if (!time) return tl::unexpected(time.error());
      when->time = *time;
    }
    if (when->number) {
      const auto born = litter_.first_birth() ? litter_.first_birth() : options_.born;
      if (!born)
        return problem("NO_BIRTH", "day numbers count from the birth, and no pup is born yet",
                       "say --born TIME, or write dates");
      when->day = litter_.zone.day_of(*born) + std::chrono::days{*when->number};
    }
    return when;
  }

  Result<void> take_row(const Row& row, const When& when) {
    std::string shown, last;
    for (std::size_t i = 0; i < row.cells.size(); ++i) {
      const Column& column = sheet_.columns[i];
      if (column.role != Role::weight) continue;
      if (no_figure(row.cells[i])) {
        ++out_.empty_cells;
        continue;
      }
      std::string pup = column.pup;
      bool known = column.known;
      if (!sheet_.wide) {
        auto named = names_.find(cell(row, Role::pup));
        if (!named) return tl::unexpected(named.error());
        if (!named->known && (!options_.born || named->label.empty()))
          return tl::unexpected(names_.unknown(named->label));
        known = named->known;
        // Two spellings of one new pup are one pup: the first spelling is its label.
        pup = known ? named->label : spelling_.emplace(folded(named->label), named->label).first->second;
      }
      auto taken = take_weight(row, i, pup, known, when);
      if (!taken) {
        Problem p = taken.error();
        if (sheet_.wide) p.what = fmt::format("column \"{}\": {}", column.title, p.what);
        return tl::unexpected(std::move(p));
      }
      const std::string moment = taken->moment == last ? "" : taken->moment + ": ";
      last = taken->moment;
      shown += (shown.empty() ? "" : ", ") + moment + taken->weight;
    }
    if (out_.rows.size() < kRowsShown) out_.rows.push_back(fmt::format("line {}: {}", row.line, shown));
    return {};
  }

  /// The moment of a weighing of that pup, and how the sheet writes it (for the id).
  struct Moment {
    Instant at;
    std::string written;
  };
  [[nodiscard]] Moment moment(const When& when) const {
    const Minutes time = when.time.value_or(options_.time);
    Moment m{litter_.zone.instant_of(*when.day, time), to_iso(*when.day)};
    if (when.time) m.written += fmt::format("T{:02}:{:02}", time.count() / 60, time.count() % 60);
    return m;
  }
  /// A sheet's day of birth without a time ("day 0") is the weight at birth, even when the pup came after midnight;
  /// unless another birth weight is recorded: then it is a weighing later that day.
  [[nodiscard]] Instant birth_day_moment(Instant usual, Instant born, const record::Pup* recorded, Grams grams) const {
    const bool other = recorded != nullptr && recorded->birth.what.grams && *recorded->birth.what.grams != grams;
    return other ? std::max(usual, born) : born;
  }

  /// A weighing as understood, for the dry run.
  struct Shown {
    std::string moment, weight;
  };
  Result<Shown> take_weight(const Row& row, std::size_t column, const std::string& pup, bool known, const When& when) {
    const std::string& text = row.cells[column];
    const WeightUnit bare = sheet_.columns[column].unit.value_or(options_.unit.value_or(litter_.units().weight));
    const auto grams = parse_weight(text, bare);
    if (!grams) return tl::unexpected(grams.error());
    if (pup == "dam" && *grams < record::kLeastDam)
      return problem("DAM_WEIGHT", fmt::format("no grown dog weighs {}", say(*grams, WeightUnit::grams)),
                     "write the unit in the cell or the heading: \"dam (kg)\"");
    const bool has_unit =
        std::any_of(text.begin(), text.end(), [](char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); });
    const std::string as_read = has_unit ? text : fmt::format("{} {}", text, name_of_unit(bare));

    const record::Pup* recorded = known ? litter_.pup(pup) : nullptr;
    const Instant born = recorded != nullptr ? recorded->birth.at : options_.born.value_or(Instant{});
    Moment m = moment(when);
    // By number only 0 is the day of birth: counted from the first pup, day 1 is the day after also for one that came
    // past midnight.
    if (pup != "dam" && !when.time && (when.number ? *when.number == 0 : litter_.zone.day_of(born) == *when.day))
      m.at = birth_day_moment(m.at, born, recorded, *grams);
    const bool at_birth = pup != "dam" && m.at == born;
    Shown shown{say_day_time(litter_.zone, m.at), fmt::format("{} = {}", pup, say(*grams, litter_.units().weight))};

    if (const auto [old, fresh] = seen_.try_emplace(fmt::format("{}\n{}", pup, m.written), Seen{row.line, *grams});
        !fresh) {
      if (old->second.grams == *grams) return shown;
      return problem("TWICE", fmt::format("pup {} has another weight for this time on line {}", pup, old->second.line),
                     "leave one out, or add a column \"time\"");
    }
    if (recorded != nullptr && at_birth && recorded->birth.what.grams == *grams) {
      ++out_.birth_weights;
      return shown;
    }
    if (recorded != nullptr && at_birth && !recorded->birth.what.grams) {
      record::Birth birth = recorded->birth.what;
      birth.grams = *grams;
      birth.as_read = as_read;
      ++out_.weights;
      if (auto added = add(row.line, row_id(litter_.key, pup, "birth", m.written), born, pup, birth,
                           recorded->birth.note, recorded->birth.id);
          !added)
        return tl::unexpected(added.error());
      return shown;
    }
    if (!known) {
      record::Birth birth;
      birth.order = static_cast<int>(out_.born.size()) + 1;
      const bool fresh = std::find(out_.born.begin(), out_.born.end(), pup) == out_.born.end();
      if (fresh && at_birth) {
        birth.grams = *grams;
        birth.as_read = as_read;
      }
      if (fresh) {
        out_.born.push_back(pup);
        if (auto added = add(row.line, row_id(litter_.key, pup, "birth", ""), born, pup, birth, ""); !added)
          return tl::unexpected(added.error());
        if (at_birth) return shown;
      }
    }
    record::Weight weight{*grams, as_read, std::nullopt};
    const auto added =
        add(row.line, row_id(litter_.key, pup, "weight", m.written), m.at, pup, weight, cell(row, Role::note));
    if (!added) return tl::unexpected(added.error());
    ++out_.weights;
    return shown;
  }

  Result<void> add(std::size_t line, record::EntryId id, Instant at, const std::string& about, record::Body body,
                   const std::string& note, std::optional<record::EntryId> corrects = {}) {
    const Stamp stamp = litter_.zone.stamp(at);
    record::Entry e = record::make_entry(std::move(id), litter_.key, stamp, stamp, options_.by, about, std::move(body));
    e.note = note;
    e.corrects = std::move(corrects);
    if (auto fine = record::check(e); !fine) return tl::unexpected(fine.error());
    out_.taken.entries.push_back(std::move(e));
    out_.taken.lines.push_back(line);
    return {};
  }

  void describe(const DayReader& days) {
    const std::string separator = table_.separator == '\t' ? "tabs" : fmt::format("\"{}\"", table_.separator);
    out_.understood.push_back(
        fmt::format("cells separated by {}; {}", separator, sheet_.wide ? "one column a pup" : "one row a weighing"));
    for (std::size_t i = 0; i < sheet_.columns.size(); ++i) {
      const Column& c = sheet_.columns[i];
      std::string is;
      switch (c.role) {
        case Role::day:
          is = days.understood();
          if (!sheet_.first(Role::time))
            is += fmt::format("; without a time: {:02}:{:02}", options_.time.count() / 60, options_.time.count() % 60);
          break;
        case Role::time:
          is = "time of day, " + litter_.zone.name();
          break;
        case Role::pup:
          is = "pup, by label or collar";
          break;
        case Role::note:
          is = "note";
          break;
        case Role::passed_over:
          is = "not taken in";
          break;
        case Role::weight:
          is = sheet_.wide ? fmt::format("weights of {}{} in {}", c.pup == "dam" ? "the dam" : "pup " + c.pup,
                                         c.known ? "" : " (new: its birth is recorded too)", unit_said(c))
                           : fmt::format("weight in {}", unit_said(c));
          break;
      }
      out_.understood.push_back(fmt::format("column {} \"{}\": {}", i + 1, c.title, is));
    }
  }
  [[nodiscard]] std::string unit_said(const Column& c) const {
    if (c.unit) return fmt::format("{} (the heading says so)", name_of_unit(*c.unit));
    if (options_.unit) return fmt::format("{} (as you said)", name_of_unit(*options_.unit));
    return fmt::format("{} where the cell names no unit (the litter's unit)", name_of_unit(litter_.units().weight));
  }

  struct Seen {
    std::size_t line;
    Grams grams;
  };
  Table table_;
  const record::Litter& litter_;
  const WeightsOptions& options_;
  PupNames names_;
  Sheet sheet_;
  std::map<std::string, Seen> seen_;
  std::map<std::string, std::string> spelling_;
  WeightsRead out_;
};

}  // namespace

Result<WeightsRead> read_weights_csv(std::istream& in, const record::Litter& litter, const WeightsOptions& options,
                                     Progress progress, Limits limits) {
  auto table = read_table(in, std::move(progress), limits);
  if (!table) return tl::unexpected(table.error());
  return Reader{std::move(*table), litter, options}.read();
}

}  // namespace lampside::exchange
