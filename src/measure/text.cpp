#include "measure/text.hpp"

#include <fmt/format.h>

#include <charconv>
#include <cmath>

namespace lampside {
namespace {

constexpr std::string_view kMinus = "\xE2\x88\x92";  // U+2212, what a phone's keyboard may type
constexpr std::string_view kDegree = "\xC2\xB0";     // U+00B0
constexpr std::string_view kNoBreak = "\xC2\xA0";    // U+00A0

std::string_view trim(std::string_view s) {
  while (!s.empty() && (s.front() == ' ' || s.front() == '\t')) s.remove_prefix(1);
  while (!s.empty() && (s.back() == ' ' || s.back() == '\t')) s.remove_suffix(1);
  return s;
}
/// A no-break space, as phones and spreadsheets put between figure and unit, is a space.
std::string plain_spaces(std::string_view s) {
  std::string out{s};
  for (std::size_t at = 0; (at = out.find(kNoBreak, at)) != std::string::npos;) out.replace(at, kNoBreak.size(), " ");
  return out;
}
std::string lower(std::string_view s) {
  std::string out{s};
  for (char& c : out)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return out;
}
bool is_digit(char c) { return c >= '0' && c <= '9'; }

/// Digits with at most one point or comma, no sign, no exponent. At most 15 characters: no scale shows more.
bool plain_decimal(std::string_view s, double& out) {
  if (s.empty() || s.size() > 15) return false;
  std::string text{s};
  int marks = 0, digits = 0;
  for (char& c : text) {
    if (c == ',') c = '.';
    if (c == '.')
      ++marks;
    else if (is_digit(c))
      ++digits;
    else
      return false;
  }
  if (marks > 1 || digits == 0) return false;
  const auto [end, ec] = std::from_chars(text.data(), text.data() + text.size(), out);
  return ec == std::errc{} && end == text.data() + text.size();
}

bool fraction(std::string_view s, double& out) {
  const auto slash = s.find('/');
  double top = 0, bottom = 0;
  if (slash == std::string_view::npos || !plain_decimal(trim(s.substr(0, slash)), top) ||
      !plain_decimal(trim(s.substr(slash + 1)), bottom) || bottom == 0)
    return false;
  out = top / bottom;
  return true;
}

/// Splits a leading number ("14 3/8", "37,2") from what follows it.
std::string_view number_part(std::string_view s) {
  std::size_t n = 0;
  while (n < s.size() && (is_digit(s[n]) || s[n] == '.' || s[n] == ',' || s[n] == '/' || s[n] == ' ')) ++n;
  return s.substr(0, n);
}

struct UnitName {
  std::string_view name;
  double grams;
};
constexpr UnitName kWeightUnits[] = {{"g", 1},
                                     {"gr", 1},
                                     {"gram", 1},
                                     {"grams", 1},
                                     {"kg", 1000},
                                     {"oz", kGramsPerOunce},
                                     {"ounce", kGramsPerOunce},
                                     {"ounces", kGramsPerOunce},
                                     {"lb", kGramsPerOunce* kOuncesPerPound},
                                     {"lbs", kGramsPerOunce* kOuncesPerPound},
                                     {"pound", kGramsPerOunce* kOuncesPerPound},
                                     {"pounds", kGramsPerOunce* kOuncesPerPound}};

double grams_of(WeightUnit unit) {
  switch (unit) {
    case WeightUnit::grams:
      return 1;
    case WeightUnit::ounces:
      return kGramsPerOunce;
    case WeightUnit::kilograms:
      return 1000;
    case WeightUnit::pounds:
      return kGramsPerOunce * kOuncesPerPound;
  }
  return 1;
}

constexpr std::string_view kWeightHelp = "type e.g. 412, 412 g, 14 3/8 oz or 1 lb 2 oz";
constexpr std::string_view kTemperatureHelp = "type e.g. 37.2, 37,2 or 98.9 F";

}  // namespace

Result<double> parse_number(std::string_view text) {
  const std::string typed = plain_spaces(text);
  const std::string_view s = trim(typed);
  if (s.empty()) return problem("NUMBER_EMPTY", "no number was typed", "type a number, e.g. 412 or 37.2");
  double value = 0;
  if (plain_decimal(s, value) || fraction(s, value)) return value;
  // "14 3/8": whole number, then a proper fraction.
  const auto space = s.find(' ');
  double part = 0;
  if (space != std::string_view::npos && plain_decimal(s.substr(0, space), value) &&
      fraction(s.substr(space + 1), part) && part < 1 && std::floor(value) == value)
    return value + part;
  return problem("NUMBER_FORMAT", fmt::format("\"{}\" is not a number", s),
                 "type digits with at most one point or comma, e.g. 412, 37,2 or 14 3/8");
}

Result<Grams> parse_weight(std::string_view raw, WeightUnit bare) {
  const std::string text = plain_spaces(raw);
  std::string_view s = trim(text);
  if (s.empty()) return problem("WEIGHT_FORMAT", "no weight was typed", std::string(kWeightHelp));
  if (s.front() == '-' || s.starts_with(kMinus))
    return problem("WEIGHT_NEGATIVE", fmt::format("\"{}\" is below zero", s),
                   "set the scale to zero with the empty tub on it, then weigh again");
  double grams = 0, last_unit = 1e9;
  for (int parts = 0; !s.empty(); ++parts) {
    const std::string_view number = number_part(s);
    const auto value = parse_number(number);
    if (!value)
      return problem("WEIGHT_FORMAT", fmt::format("\"{}\" is not a weight", trim(text)), std::string(kWeightHelp));
    s.remove_prefix(number.size());
    std::size_t n = 0;
    while (n < s.size() && !is_digit(s[n]) && s[n] != ' ' && s[n] != '.' && s[n] != ',') ++n;
    const std::string unit = lower(s.substr(0, n));
    s = trim(s.substr(n));
    if (s.starts_with('.')) s = trim(s.substr(1));
    double factor = 0;
    if (unit.empty()) {
      if (parts > 0 || !s.empty())
        return problem("WEIGHT_UNIT", fmt::format("\"{}\" has a number without a unit", trim(text)),
                       std::string(kWeightHelp));
      factor = grams_of(bare);
    }
    for (const auto& known : kWeightUnits)
      if (known.name == unit) factor = known.grams;
    if (factor == 0)
      return problem("WEIGHT_UNIT", fmt::format("\"{}\" is not a unit of weight", unit), std::string(kWeightHelp));
    // "2 oz 1 lb" or "5 g 3 g" is more likely a slip than a way to write a weight.
    if (factor >= last_unit)
      return problem("WEIGHT_FORMAT", fmt::format("\"{}\" is not a weight", trim(text)), std::string(kWeightHelp));
    last_unit = factor;
    grams += *value * factor;
  }
  return Grams{grams};
}

Result<Celsius> parse_temperature(std::string_view raw, TemperatureUnit bare) {
  const std::string text = plain_spaces(raw);
  std::string_view s = trim(text);
  double sign = 1;
  if (s.starts_with('-'))
    sign = -1, s.remove_prefix(1);
  else if (s.starts_with(kMinus))
    sign = -1, s.remove_prefix(kMinus.size());
  const std::string_view number = number_part(s);
  const auto value = parse_number(number);
  if (!value || number.find('/') != std::string_view::npos)
    return problem("TEMP_FORMAT", fmt::format("\"{}\" is not a temperature", trim(text)),
                   std::string(kTemperatureHelp));
  std::string_view rest = trim(s.substr(number.size()));
  if (rest.starts_with(kDegree)) rest = trim(rest.substr(kDegree.size()));
  const std::string unit = lower(rest);
  TemperatureUnit in = bare;
  if (unit == "c" || unit == "celsius")
    in = TemperatureUnit::celsius;
  else if (unit == "f" || unit == "fahrenheit")
    in = TemperatureUnit::fahrenheit;
  else if (!unit.empty())
    return problem("TEMP_UNIT", fmt::format("\"{}\" is not a unit of temperature", unit),
                   std::string(kTemperatureHelp));
  return in == TemperatureUnit::celsius ? Celsius{sign * *value} : from_fahrenheit(sign * *value);
}

std::string say_number(double value, int decimals) {
  std::string out = fmt::format("{:.{}f}", value, decimals);
  if (decimals > 0) {
    while (out.back() == '0') out.pop_back();
    if (out.back() == '.') out.pop_back();
  }
  return out == "-0" ? "0" : out;
}

std::string in_words(std::string_view name) {
  std::string out{name};
  for (char& c : out) c = c == '_' ? ' ' : c >= 'A' && c <= 'Z' ? static_cast<char>(c + 32) : c;
  return out;
}

std::string sentence(std::string_view text) {
  std::string out{text};
  if (!out.empty() && out.front() >= 'a' && out.front() <= 'z') out.front() = static_cast<char>(out.front() - 32);
  return out;
}

std::string say(Grams g, WeightUnit unit) {
  switch (unit) {
    case WeightUnit::grams:
      return say_number(g.count(), 0) + " g";
    case WeightUnit::kilograms:
      return say_number(g.count() / 1000, 3) + " kg";
    case WeightUnit::ounces:
    case WeightUnit::pounds:
      break;
  }
  const double eighths_total = std::round(std::fabs(g.count()) / kGramsPerOunce * 8);
  const auto eighths = static_cast<long long>(eighths_total);
  const long long pounds = eighths / (16 * 8);
  const long long ounces = eighths / 8 % 16;
  const long long part = eighths % 8;
  constexpr std::string_view kParts[] = {"", "1/8", "1/4", "3/8", "1/2", "5/8", "3/4", "7/8"};
  std::string out = g.count() < 0 && eighths > 0 ? "-" : "";
  if (pounds > 0) out += fmt::format("{} lb", pounds);
  if (pounds > 0 && (ounces > 0 || part > 0)) out += " ";
  if (ounces > 0 || (part == 0 && pounds == 0)) out += fmt::format("{}", ounces);
  if (part > 0) out += (ounces > 0 ? " " : "") + std::string(kParts[part]);
  if (ounces > 0 || part > 0 || pounds == 0) out += " oz";
  return out;
}
std::string say(Kilograms k) { return say_number(k.count(), 1) + " kg"; }
std::string say(Celsius c, TemperatureUnit unit) {
  return unit == TemperatureUnit::celsius ? fmt::format("{:.1f} °C", c.count())
                                          : fmt::format("{:.1f} °F", to_fahrenheit(c));
}
std::string say(CelsiusDelta d, TemperatureUnit unit) {
  return unit == TemperatureUnit::celsius ? fmt::format("{:.1f} °C", d.count())
                                          : fmt::format("{:.1f} °F", to_fahrenheit(d));
}
std::string say_cash(Cash amount, const std::optional<std::string>& currency) {
  const auto all = amount.thousandths() < 0 ? -amount.thousandths() : amount.thousandths();
  std::string out = amount.thousandths() < 0 ? "-" : "";
  out += all % 10 == 0 ? fmt::format("{}.{:02}", all / 1000, all % 1000 / 10)
                       : fmt::format("{}.{:03}", all / 1000, all % 1000);
  if (currency && !currency->empty()) out += " " + *currency;
  return out;
}
std::string say(Percent p) { return say_number(p.count(), 1) + " %"; }

}  // namespace lampside
