#include "exchange/dates.hpp"

#include <fmt/format.h>

#include <array>
#include <charconv>

#include "exchange/lines.hpp"
#include "exchange/words.hpp"

namespace lampside::exchange {
namespace {

constexpr std::string_view kHelp = "write dates like 2026-03-01, or day numbers like 7 (0 is the day of birth)";

std::optional<int> whole_number(std::string_view s) {
  int value = 0;
  if (s.empty() || s.size() > 8) return std::nullopt;
  for (const char c : s)
    if (c < '0' || c > '9') return std::nullopt;
  const auto [end, error] = std::from_chars(s.data(), s.data() + s.size(), value);
  return error == std::errc{} && end == s.data() + s.size() ? std::optional{value} : std::nullopt;
}

struct Pieces {
  char mark = 0;  ///< between the numbers: '-', '/' or '.'
  std::array<int, 3> number{};
  std::array<std::size_t, 3> digits{};
  std::string_view clock;  ///< what stands behind the date
  [[nodiscard]] bool year_first() const { return digits[0] == 4; }
  [[nodiscard]] bool slashed() const {
    return !year_first() && mark != '.';
  }  ///< the order cannot be told from the shape
};

std::optional<Pieces> split(std::string_view text) {
  Pieces p;
  text = trimmed(text);
  const auto end = text.find_first_of(" T");
  std::string_view date = text.substr(0, end);
  if (end != std::string_view::npos) p.clock = trimmed(text.substr(end + 1));
  for (std::size_t i = 0; i < 3; ++i) {
    const auto stop = i < 2 ? date.find_first_of("-/.") : date.size();
    if (stop == std::string_view::npos) return std::nullopt;
    const auto value = whole_number(date.substr(0, stop));
    if (!value) return std::nullopt;
    p.number[i] = *value;
    p.digits[i] = stop;
    if (i == 2) break;
    if (i == 1 && date[stop] != p.mark) return std::nullopt;
    p.mark = date[stop];
    date.remove_prefix(stop + 1);
  }
  const bool years_last = p.digits[2] == 4 || p.digits[2] == 2;
  if (p.year_first() ? p.digits[2] > 2 : !years_last) return std::nullopt;
  if (p.digits[0] > 4 || p.digits[1] > 2 || (!p.year_first() && p.digits[0] > 2)) return std::nullopt;
  return p;
}

/// "7", "day 7", "d7".
std::optional<int> day_number(std::string_view text) {
  std::string s = folded(text);
  std::string_view rest = s;
  for (const std::string_view word : {"day", "d"})
    if (rest.starts_with(word)) {
      rest = trimmed(rest.substr(word.size()));
      break;
    }
  return whole_number(rest);
}

std::string format_problem(std::string_view text) { return fmt::format("\"{}\" is not a date", text); }

}  // namespace

Result<Minutes> parse_clock(std::string_view text) {
  const std::string s = folded(text);
  std::string_view rest = s;
  int add = -1;  // hours to add for am/pm; -1: a 24-hour clock
  for (const auto& [word, hours] : {std::pair{"am", 0}, {"pm", 12}})
    if (rest.ends_with(word)) {
      add = hours;
      rest = trimmed(rest.substr(0, rest.size() - 2));
      break;
    }
  std::array<int, 3> parts{0, 0, 0};
  std::size_t n = 0;
  for (; n < 3; ++n) {
    const auto colon = rest.find(':');
    const auto value = whole_number(rest.substr(0, colon));
    if (!value || rest.substr(0, colon).size() > 2) break;
    parts[n] = *value;
    if (colon == std::string_view::npos) {
      rest = {};
      ++n;
      break;
    }
    rest.remove_prefix(colon + 1);
  }
  const bool hour_fine = add < 0 ? parts[0] <= 23 && n >= 2 : parts[0] >= 1 && parts[0] <= 12;
  if (!rest.empty() || n == 0 || !hour_fine || parts[1] > 59 || parts[2] > 59)
    return problem("CLOCK_FORMAT", fmt::format("\"{}\" is not a time of day", text), "write 08:05 or 8:05 pm");
  const int hour = add < 0 ? parts[0] : parts[0] % 12 + add;
  return Minutes{hour * 60 + parts[1]};
}

Result<DayReader> DayReader::of_column(std::span<const DayCell> cells, std::optional<DateOrder> said) {
  DayReader reader;
  reader.order_ = said;
  std::optional<DayCell> day_first, month_first, open;
  std::size_t numbers = 0, dates = 0, slashed = 0;
  for (const DayCell& cell : cells) {
    const auto p = split(cell.text);
    if (!p) {
      if (!day_number(cell.text))
        return tl::unexpected(at_line(cell.line, {"DATE_FORMAT", format_problem(cell.text), std::string(kHelp)}));
      ++numbers;
      if (dates > 0)
        return tl::unexpected(at_line(
            cell.line, {"DATE_FORMAT", fmt::format("\"{}\" stands among dates", cell.text), std::string(kHelp)}));
      continue;
    }
    ++dates;
    if (numbers > 0)
      return tl::unexpected(at_line(
          cell.line, {"DATE_FORMAT", fmt::format("\"{}\" stands among day numbers", cell.text), std::string(kHelp)}));
    if (!p->slashed()) continue;
    ++slashed;
    if (p->number[0] > 12 && !day_first) day_first = cell;
    if (p->number[1] > 12 && !month_first) month_first = cell;
    if (p->number[0] != p->number[1] && !open) open = cell;
  }
  if (!said && day_first && month_first)
    return tl::unexpected(
        at_line(month_first->line, {"DATES_CONTRADICT",
                                    fmt::format("\"{}\" has the month first, but \"{}\" on line {} has the day first",
                                                month_first->text, day_first->text, day_first->line),
                                    "write all dates one way, best like 2026-03-01"}));
  if (!said && day_first) reader.order_ = DateOrder::day_month_year;
  if (!said && month_first) reader.order_ = DateOrder::month_day_year;
  if (!reader.order_ && open) {
    const auto p = split(open->text);
    return tl::unexpected(
        at_line(open->line, {"DATES_AMBIGUOUS",
                             fmt::format("\"{}\" could be day {} of month {} or day {} of month {}", open->text,
                                         p->number[0], p->number[1], p->number[1], p->number[0]),
                             "say --dates dmy (day first) or --dates mdy (month first)"}));
  }
  if (!reader.order_) reader.order_ = DateOrder::day_month_year;  // 3/3/2026: either way the same
  reader.numbers_ = numbers > 0;
  const bool days_first = *reader.order_ == DateOrder::day_month_year;
  reader.understood_ = numbers > 0    ? "day numbers, 0 is the day of birth"
                       : slashed == 0 ? "dates"
                       : said         ? fmt::format("dates, {} first as you said", days_first ? "day" : "month")
                       : day_first    ? fmt::format("dates, day first (line {}: {})", day_first->line, day_first->text)
                       : month_first
                           ? fmt::format("dates, month first (line {}: {})", month_first->line, month_first->text)
                           : "dates (the same with day or month first)";
  return reader;
}

Result<When> DayReader::read(std::string_view text) const {
  When when;
  const auto p = split(text);
  if (!p) {
    when.number = day_number(text);
    if (!when.number) return problem("DATE_FORMAT", format_problem(text), std::string(kHelp));
    if (*when.number > 400)
      return problem("DATE_RANGE", fmt::format("\"{}\" is no age of a pup", text),
                     "if a spreadsheet shows dates here, format the column as a date (2026-03-01) and save again");
    return when;
  }
  int year = p->number[2], month = p->number[1], day = p->number[0];
  if (p->year_first()) {
    year = p->number[0];
    day = p->number[2];
  } else if (p->slashed() && order_ == DateOrder::month_day_year) {
    std::swap(month, day);
  }
  if (!p->year_first() && p->digits[2] == 2) year += 2000;
  const std::chrono::year_month_day date{std::chrono::year{year}, std::chrono::month{static_cast<unsigned>(month)},
                                         std::chrono::day{static_cast<unsigned>(day)}};
  if (!date.ok())
    return problem("DATE_NONE", fmt::format("there is no day {} of month {} in {}", day, month, year),
                   std::string(kHelp));
  if (year < 1990 || year > 2100)
    return problem("DATE_RANGE", fmt::format("the year {} cannot be right", year), std::string(kHelp));
  when.day = CivilDay{std::chrono::local_days{date}};
  if (!p->clock.empty()) {
    auto clock = parse_clock(p->clock);
    if (!clock) return tl::unexpected(clock.error());
    when.time = *clock;
  }
  return when;
}

}  // namespace lampside::exchange
