#include "care/label.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "measure/text.hpp"

namespace lampside::care {
namespace {

using std::string;
using std::string_view;

string_view trim(string_view s) {
  const auto blank = [](char c) { return c == ' ' || c == '\t' || c == '\r' || c == '.'; };
  while (!s.empty() && (s.front() == ' ' || s.front() == '\t' || s.front() == '\r')) s.remove_prefix(1);
  while (!s.empty() && blank(s.back())) s.remove_suffix(1);
  return s;
}

/// Small letters, plain dashes, spaces and fractions: what phones and printed labels write in several ways.
string plain(string_view text) {
  static constexpr std::array<std::pair<string_view, string_view>, 13> kSame{{{"\xC2\xA0", " "},
                                                                              {"½", " 1/2"},
                                                                              {"¼", " 1/4"},
                                                                              {"¾", " 3/4"},
                                                                              {"≤", "<="},
                                                                              {"≥", ">="},
                                                                              {"–", "-"},
                                                                              {"—", "-"},
                                                                              {"−", "-"},
                                                                              {"µ", "u"},
                                                                              {"μ", "u"},
                                                                              {" to ", "-"},
                                                                              {"\t", " "}}};
  string out{text};
  for (char& c : out)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c + 32);
  for (const auto& [from, to] : kSame)
    // "up to 5 lb" keeps its word.
    for (std::size_t at = 0; (at = out.find(from, at)) != string::npos; at += to.size())
      if (from != " to " || at < 2 || out.compare(at - 2, 2, "up") != 0) out.replace(at, from.size(), to);
  return out;
}

std::vector<string_view> split(string_view s, string_view at_any) {
  std::vector<string_view> out;
  for (;;) {
    const auto end = s.find_first_of(at_any);
    out.push_back(trim(s.substr(0, end)));
    if (end == string_view::npos) return out;
    s.remove_prefix(end + 1);
  }
}

/// "15 + 5 mg/kg" apart into its figures and the unit that follows the last of them.
struct Figures {
  std::vector<double> numbers;
  string_view unit;
};
std::optional<Figures> figures(string_view s) {
  Figures out;
  const auto parts = split(s, "+");
  for (std::size_t i = 0; i < parts.size(); ++i) {
    const auto end = parts[i].find_first_not_of("0123456789.,/ ");
    const auto number = parse_number(parts[i].substr(0, end));
    if (!number) return std::nullopt;
    out.numbers.push_back(*number);
    const auto unit = end == string_view::npos ? string_view{} : trim(parts[i].substr(end));
    if (i + 1 == parts.size())
      out.unit = unit;
    else if (!unit.empty() && unit != "mg")
      return std::nullopt;
  }
  return out;
}

bool among(string_view word, std::initializer_list<string_view> words) {
  return std::find(words.begin(), words.end(), word) != words.end();
}
std::optional<Measured> measured(string_view word) {
  if (among(word, {"ml", "millilitre", "millilitres", "milliliter", "milliliters", "cc"})) return Measured::ml;
  if (among(word, {"tab", "tabs", "tablet", "tablets", "sachet", "sachets", "chew", "chews", "pill", "pills"}))
    return Measured::tablets;
  if (among(word, {"g", "gram", "grams"})) return Measured::grams;
  return std::nullopt;
}
std::optional<double> kilograms_in(string_view word) {
  if (among(word, {"kg", "kgs"})) return 1;
  if (among(word, {"lb", "lbs", "pound", "pounds"})) return kKilogramsPerPound;
  return std::nullopt;
}
std::optional<double> milligrams_in(string_view word) {
  if (word == "mg") return 1;
  if (word == "ug" || word == "mcg") return 0.001;
  if (word == "g") return 1000;
  return std::nullopt;
}

/// "mg/ml" and "mg per 5 ml" apart: what, of how many, of which.
struct Ratio {
  string_view top;
  double of = 1;
  string_view bottom;
};
std::optional<Ratio> ratio(string_view s) {
  auto at = s.find('/');
  std::size_t skip = 1;
  if (const auto word = s.find(" per "); word != string_view::npos && (at == string_view::npos || word < at))
    at = word, skip = 5;
  if (at == string_view::npos) return std::nullopt;
  Ratio out{trim(s.substr(0, at)), 1, trim(s.substr(at + skip))};
  if (const auto end = out.bottom.find_first_not_of("0123456789., "); end != 0) {
    const auto number = parse_number(out.bottom.substr(0, end));
    if (!number || *number <= 0 || end == string_view::npos) return std::nullopt;
    out.of = *number;
    out.bottom = trim(out.bottom.substr(end));
  }
  return out;
}

constexpr string_view kStrengthHelp =
    "type what the label says, e.g. 4.54 mg/ml, 22.7 mg/tablet, 222 mg/g or 15 + 5 mg/ml";
constexpr string_view kDoseHelp =
    "type it as the label says, e.g. 5 mg/kg, 5 ml per 10 lb, or a line each: 0.9-1.8 kg: 1/2";

tl::unexpected<Problem> bad_line(string code, string_view line, string_view what) {
  return problem(std::move(code), fmt::format("\"{}\": {}", line, what), string(kDoseHelp));
}

/// "0.9-1.8 kg", "up to 5 lb", "> 5 lb" into the direction's weights.
bool read_weights(string_view s, Direction& into) {
  const auto unit_at = s.find_last_of("0123456789");
  if (unit_at == string_view::npos) return false;
  const auto unit = kilograms_in(trim(s.substr(unit_at + 1)));
  if (!unit) return false;
  string_view words = trim(s.substr(0, unit_at + 1));
  const auto take = [&](std::initializer_list<string_view> signs) {
    for (const auto sign : signs)
      if (words.starts_with(sign)) {
        words = trim(words.substr(sign.size()));
        return true;
      }
    return false;
  };
  const auto kilograms = [&](string_view text) -> std::optional<Kilograms> {
    const auto number = parse_number(text);
    if (!number || *number < 0) return std::nullopt;
    return Kilograms{*number * *unit};
  };
  const bool to = take({"<=", "up to", "at most"}), under = !to && take({"<", "under", "below"});
  if (to || under) {
    const auto most = kilograms(words);
    if (!most) return false;
    into.to = *most, into.below_to = under;
    return true;
  }
  const bool from = take({">=", "from", "at least"}), over = !from && take({">", "over", "above", "more than"});
  const auto dash = words.find('-');
  const auto least = kilograms(trim(words.substr(0, dash)));
  if (!least || (dash == string_view::npos && !from && !over)) return false;
  into.from = *least, into.above_from = over;
  if (dash == string_view::npos) return true;
  const auto most = kilograms(trim(words.substr(dash + 1)));
  if (!most || !(*most > *least)) return false;
  into.to = *most;
  return true;
}

Result<Direction> read_direction(string_view line, Measured in) {
  Direction out;
  string_view amount = line;
  if (const auto colon = line.find(':'); colon != string_view::npos) {
    if (!read_weights(trim(line.substr(0, colon)), out))
      return bad_line("DOSE_WEIGHTS", line, "the weights before the colon cannot be read");
    amount = trim(line.substr(colon + 1));
  }
  const auto read = figures(amount);
  if (!read) return bad_line("DOSE_FORMAT", line, "no amount can be read");
  for (const double n : read->numbers)
    if (!(n > 0)) return bad_line("DOSE_FORMAT", line, "the amount is not more than zero");
  const auto single = [&]() { return read->numbers.size() == 1; };
  const auto wrong_unit = [&] {
    return bad_line("DOSE_UNIT", line,
                    fmt::format("the strength is given for {}, so the amount cannot be in \"{}\"",
                                in == Measured::ml        ? "ml"
                                : in == Measured::tablets ? "a tablet"
                                                          : "a gram",
                                read->unit));
  };
  if (read->unit.empty() || measured(read->unit)) {
    if (!single() || (measured(read->unit) && measured(read->unit) != in)) return wrong_unit();
    if (read->unit.empty() && amount.size() == line.size())
      return bad_line("DOSE_UNIT", line, "a bare number is no dose: of what, for how much dog?");
    out.each = Portion{in, read->numbers.front()};
    return out;
  }
  const auto per = ratio(read->unit);
  const auto dog = per ? kilograms_in(per->bottom) : std::nullopt;
  if (!dog) return bad_line("DOSE_UNIT", line, "an amount is for each kg or lb of dog, or a number of tablets or ml");
  const double kilograms = *dog * per->of;
  if (measured(per->top) == in) {
    if (!single()) return wrong_unit();
    out.per_kg = Portion{in, read->numbers.front() / kilograms};
  } else if (const auto milligrams = milligrams_in(per->top)) {
    for (const double n : read->numbers) out.mg_per_kg.emplace_back(n * *milligrams / kilograms);
  } else {
    return wrong_unit();
  }
  return out;
}

bool near(double a, double b, double share) { return std::fabs(a - b) <= share * b; }

string_view word_of(Measured m) { return m == Measured::ml ? "ml" : m == Measured::tablets ? "tablet" : "g"; }

std::vector<const reference::PrintedStrength*> printed(string_view active, const reference::Reference& reference) {
  std::vector<const reference::PrintedStrength*> out;
  for (const auto& row : reference.strengths)
    if (names_active({string(active)}, row.active)) out.push_back(&row);
  return out;
}

}  // namespace

string_view name_of(Measured m) { return m == Measured::ml ? "ml" : m == Measured::tablets ? "tablets" : "grams"; }

string say(Portion p) {
  if (p.in == Measured::ml) return say_number(p.count, p.count < 0.1 ? 3 : 2) + " ml";
  if (p.in == Measured::grams) return say_number(p.count, 3) + " g";
  const double quarters = std::round(p.count * 4);
  if (std::fabs(p.count * 4 - quarters) > 1e-6) return say_number(p.count, 2) + " tablets";
  static constexpr string_view kParts[] = {"", "1/4", "1/2", "3/4"};
  const auto whole = static_cast<long long>(quarters) / 4;
  const auto part = kParts[static_cast<std::size_t>(static_cast<long long>(quarters) % 4)];
  string out = whole > 0 || part.empty() ? std::to_string(whole) : "";
  if (!part.empty()) out += (out.empty() ? "" : " ") + string(part);
  return out + (p.count > 1 ? " tablets" : " tablet");
}

Result<Strength> parse_strength(string_view text) {
  const string typed = plain(text);
  const string_view s = trim(typed);
  if (s.empty()) return problem("STRENGTH_EMPTY", "no strength was typed", string(kStrengthHelp));
  if (s.find('%') != string_view::npos) {
    const auto number = parse_number(s.substr(0, s.find_first_of("% ")));
    return problem("STRENGTH_PERCENT", fmt::format("\"{}\" does not say per cent of what", s),
                   number
                       ? fmt::format("if the label says w/v (weight in volume) it is {} mg/ml; if it is a powder, {} "
                                     "mg/g: type the one the label means",
                                     say_number(*number * 10, 3), say_number(*number * 10, 3))
                       : string(kStrengthHelp));
  }
  if (s.find(':') != string_view::npos)
    return problem("STRENGTH_RATIO", fmt::format("\"{}\" tells how something was diluted, not how strong it is", s),
                   "find the milligrams in one ml on the label; if they are not there, ask your vet");
  const auto read = figures(s);
  if (!read) return problem("STRENGTH_NUMBER", fmt::format("\"{}\" is not a strength", s), string(kStrengthHelp));
  const auto per = ratio(read->unit);
  if (!per)
    return problem("STRENGTH_UNIT", fmt::format("\"{}\" does not say of what: one ml, one tablet, one gram?", s),
                   string(kStrengthHelp));
  auto milligrams = milligrams_in(per->top);
  auto in = measured(per->bottom);
  if (among(per->bottom, {"l", "litre", "liter"}) && milligrams) in = Measured::ml, *milligrams /= 1000;
  if (among(per->bottom, {"kg"}) && milligrams)
    return problem("STRENGTH_UNIT", fmt::format("\"{}\" is a dose for a dog, not a strength", s),
                   string(kStrengthHelp));
  if (!milligrams || !in)
    return problem("STRENGTH_UNIT", fmt::format("\"{}\" is not a unit of strength", read->unit), string(kStrengthHelp));
  Strength out{*in, {}};
  for (const double n : read->numbers) {
    const double mg = n * *milligrams / per->of;
    const double most =
        *in == Measured::tablets ? 10'000 : 1'200;  // a gram of anything holds 1000 mg, a ml little more
    if (!(mg > 0) || mg > most)
      return problem("STRENGTH_NUMBER", fmt::format("{} mg in one {} cannot be", say_number(mg, 3), word_of(*in)),
                     string(kStrengthHelp));
    out.mg.emplace_back(mg);
  }
  return out;
}

bool Direction::holds(Kilograms dog) const {
  constexpr double dust = 1e-9;  // 5 lb typed as pounds is 5 lb
  const double over = dog.count() - from.count(), left = to.count() - dog.count();
  return (above_from ? over > dust : over >= -dust) && (below_to ? left > dust : left >= -dust);
}

Result<std::vector<Direction>> parse_directions(string_view text, Measured in) {
  std::vector<Direction> out;
  const string typed = plain(text);
  for (const auto line : split(typed, ";\n")) {
    if (line.empty()) continue;
    auto direction = read_direction(line, in);
    if (!direction) return tl::unexpected(direction.error());
    for (const auto& other : out) {
      // Two lines may touch in a weight only where one of them leaves it out.
      const auto lower = std::max(direction->from, other.from);
      const auto upper = std::min(direction->to, other.to);
      if (lower < upper || (lower == upper && direction->holds(lower) && other.holds(lower)))
        return bad_line("DOSE_OVERLAP", line, "another line speaks of the same weight");
    }
    out.push_back(std::move(*direction));
  }
  if (out.empty()) return problem("DOSE_EMPTY", "the label's dose is not written down", string(kDoseHelp));
  return out;
}

std::vector<string> actives_of(string_view text) {
  std::vector<string> out;
  const string typed = plain(text);
  for (const auto name : split(typed, "+,;/"))
    if (!name.empty()) out.emplace_back(name);
  return out;
}

bool names_active(const std::vector<string>& actives, string_view active) {
  return std::any_of(actives.begin(), actives.end(), [&](const string& name) {
    const auto at = name.find(active);
    const auto letter = [](char c) { return c >= 'a' && c <= 'z'; };
    if (at == string::npos) return false;
    const auto end = at + active.size();
    return (at == 0 || !letter(name[at - 1])) && (end == name.size() || !letter(name[end]));
  });
}

std::optional<string> strength_doubt(string_view active, Measured per, Milligrams mg,
                                     const reference::Reference& reference) {
  const auto rows = printed(active, reference);
  const double salt = reference::parameter(reference, "embonate_per_pyrantel");
  const string typed = fmt::format("{} mg/{}", say_number(mg.count(), 3), word_of(per));
  string list;
  std::optional<string> reason;
  for (const auto* row : rows) {
    const double other = row->mg.count();
    if (row->per != word_of(per)) {
      if (!reason && near(mg.count(), other, 0.005))
        reason = fmt::format("{}: {} mg is what a {} holds in print, not a {}", typed, say_number(other, 3), row->per,
                             word_of(per));
      continue;
    }
    if (near(mg.count(), other, 0.01)) return std::nullopt;
    list += (list.empty() ? "" : ", ") + say_number(other, 3);
    if (active.find("pyrantel") != string_view::npos && near(mg.count(), other * salt, 0.01))
      reason = fmt::format("{} is {} times {}: that looks like the salt (embonate, pamoate), not the base", typed,
                           say_number(salt, 2), say_number(other, 3));
    for (const double slip : {10.0, 100.0})
      if (near(mg.count(), other * slip, 0.01) || near(mg.count() * slip, other, 0.01))
        reason = fmt::format("{} is {} with the point in another place", typed, say_number(other, 3));
  }
  if (list.empty()) return std::nullopt;  // nothing in print to hold it against
  if (!reason) reason = fmt::format("{} is none of the strengths in print", typed);
  return *reason + fmt::format(". In print for {}: {} mg/{}", active, list, word_of(per));
}

string other_strengths(const Label& label, const reference::Reference& reference) {
  string out;
  for (std::size_t i = 0; i < label.actives.size() && i < label.strength.mg.size(); ++i) {
    const double own = label.strength.mg[i].count();
    string list;
    double least = own, most = own;
    for (const auto* row : printed(label.actives[i], reference))
      if (row->per == word_of(label.strength.per) && !near(row->mg.count(), own, 0.01)) {
        list += (list.empty() ? "" : ", ") + say_number(row->mg.count(), 3);
        least = std::min(least, row->mg.count()), most = std::max(most, row->mg.count());
      }
    if (!list.empty())
      out += fmt::format("{}{} also comes as {} mg/{}, up to {} times apart", out.empty() ? "" : "; ", label.actives[i],
                         list, word_of(label.strength.per), say_number(std::floor(most / least), 0));
  }
  return out;
}

std::optional<CivilDay> use_by(std::optional<CivilDay> printed, std::optional<CivilDay> opened,
                               std::optional<Days> keeps_open) {
  if (!opened || !keeps_open) return printed;
  const auto until = *opened + std::chrono::days{static_cast<int>(keeps_open->count())};
  return printed ? std::min(*printed, until) : until;
}

Result<Label> read_label(const record::Product& p, const reference::Reference& reference) {
  if (!p.strength)
    return problem("LABEL_NO_STRENGTH", "the strength of " + p.name + " is not written down",
                   "no dose without the label's strength: " + string(kStrengthHelp));
  auto strength = parse_strength(*p.strength);
  if (!strength) return tl::unexpected(strength.error());
  if (!p.dose)
    return problem("LABEL_NO_DOSE", "the dose on the label of " + p.name + " is not written down", string(kDoseHelp));
  auto directions = parse_directions(*p.dose, strength->per);
  if (!directions) return tl::unexpected(directions.error());

  Label out;
  out.name = p.name;
  if (p.active) out.actives = actives_of(*p.active);
  const auto count = strength->mg.size();
  if (!out.actives.empty() && out.actives.size() != count)
    return problem(
        "LABEL_ACTIVES",
        fmt::format("{} active ingredients are named, and {} strengths are given", out.actives.size(), count),
        "give one strength for each, e.g. febantel + pyrantel and 15 + 5 mg/ml");
  const bool salt_strength = p.strength_as == record::Basis::salt, salt_dose = p.dose_as == record::Basis::salt;
  if (salt_strength || salt_dose) {
    if (!p.salt_per_base || count > 1)
      return problem("LABEL_SALT",
                     count > 1 ? "a salt beside other actives cannot be converted here"
                               : "the label gives the salt, and how much salt holds one part of base is missing",
                     count > 1 ? "type the figures the label gives for the base"
                               : "look for both figures on the label (14.4 mg embonate = 5.0 mg base makes 2.88)");
    if (salt_strength) strength->mg.front() = strength->mg.front() / *p.salt_per_base;
    if (salt_dose)
      for (auto& d : *directions)
        for (auto& mg : d.mg_per_kg) mg = mg / *p.salt_per_base;
  }
  for (const auto& d : *directions) {
    if (d.mg_per_kg.empty()) continue;
    if (d.mg_per_kg.size() != count)
      return problem("LABEL_ACTIVES", "the dose names another number of actives than the strength",
                     "give one figure for each, e.g. 15 + 5 mg/kg with 15 + 5 mg/ml");
    const double first = d.mg_per_kg.front().count() / strength->mg.front().count();
    for (std::size_t i = 1; i < count; ++i)
      if (!near(d.mg_per_kg[i].count() / strength->mg[i].count(), first, 0.03))
        return problem("LABEL_DISAGREES", "the doses of the actives call for different amounts of the product",
                       "read the label again: strength and dose must be in the same order");
  }
  const bool needs_mark = strength->per != Measured::tablets;
  if (strength->per == Measured::ml && p.mark_ml) out.mark = p.mark_ml->count();
  if (strength->per == Measured::grams && p.mark_g) out.mark = p.mark_g->count();
  if (needs_mark && !out.mark)
    return problem("LABEL_MARK",
                   strength->per == Measured::ml ? "the smallest mark of the syringe is not written down"
                                                 : "the smallest step of the scale is not written down",
                   strength->per == Measured::ml ? "look at the syringe: often 0.01, 0.02, 0.1 or 0.2 ml"
                                                 : "look at the scale: often 0.01, 0.1 or 1 g");
  out.parts = p.parts.value_or(1);
  if (out.parts == 3)
    return problem("LABEL_PARTS", "a tablet is not cut into thirds", "choose whole tablets, halves or quarters");
  if (!needs_mark) out.mark = 1.0 / out.parts;

  out.strength = std::move(*strength);
  out.directions = std::move(*directions);
  out.at_least = p.at_least.value_or(false);
  if (p.at_most) out.at_most = Portion{out.strength.per, *p.at_most};
  out.min_age = p.min_age_d;
  out.min_weight = p.min_kg;
  out.repeat = p.repeat_d;
  out.days_in_row = p.days_in_row.value_or(1);
  out.use_by = use_by(p.expires, p.opened, p.keeps_open_d);
  out.opened_unknown = p.keeps_open_d && !p.opened;
  out.wormer = p.use.value_or(record::ProductUse::wormer) == record::ProductUse::wormer;
  out.lot = p.lot.value_or("");
  out.confirmed = p.confirmed.value_or(false);
  for (std::size_t i = 0; i < out.actives.size() && !out.strength_doubt; ++i)
    out.strength_doubt = strength_doubt(out.actives[i], out.strength.per, out.strength.mg[i], reference);
  return out;
}

}  // namespace lampside::care
