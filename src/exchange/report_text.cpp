#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "due/told.hpp"
#include "exchange/report.hpp"
#include "exchange/words.hpp"

namespace lampside::exchange {
namespace {

using reference::Assessed;
using reference::NotAssessed;

constexpr std::size_t kWidth = 80;

/// Columns a text takes on a terminal: code points, which is right for the Latin text written here.
std::size_t width(std::string_view s) {
  return static_cast<std::size_t>(std::count_if(s.begin(), s.end(), [](char c) { return (c & 0xC0) != 0x80; }));
}
std::string clipped(std::string_view s, std::size_t columns) {
  if (width(s) <= columns) return std::string(s);
  std::string out;
  for (const char c : s) {
    if ((c & 0xC0) != 0x80 && width(out) + 1 == columns) break;
    out += c;
  }
  return out + "~";
}
std::string left(std::string_view s, std::size_t columns) {
  std::string out = clipped(s, columns);
  return out.append(columns - width(out), ' ');
}
std::string right(std::string_view s, std::size_t columns) {
  const std::string out = clipped(s, columns);
  return std::string(columns - width(out), ' ') + out;
}

std::string_view heading(reference::Level level) {
  switch (level) {
    case reference::Level::emergency:
      return "EMERGENCY";
    case reference::Level::call_vet:
      return "CALL THE VET";
    case reference::Level::act:
      return "ACT";
    case reference::Level::watch:
      return "WATCH";
    case reference::Level::note:
      return "NOTE";
  }
  return "NOTE";
}

std::string_view stage(whelping::Stage s) {
  switch (s) {
    case whelping::Stage::before:
      return "no sign of labour noted";
    case whelping::Stage::first_stage:
      return "first stage";
    case whelping::Stage::straining:
      return "straining";
    case whelping::Stage::between_pups:
      return "between pups";
    case whelping::Stage::done:
      return "done";
  }
  return "";
}

std::string signed_number(double value, int decimals) {
  return (value < 0 ? "-" : "+") + say_number(std::abs(value), decimals);
}

class Writer {
 public:
  Writer(const advice::Assessment& assessment, const record::Litter& litter) : a_{assessment}, litter_{litter} {}

  std::string whole() {
    line(fmt::format("{}, litter {}: {} ({})", a_.dam.name, a_.litter, when(a_.at), litter_.zone.name()));
    findings();
    due();
    whelping();
    pups();
    dam_and_nest();
    supplies();
    blank();
    line("Lampside keeps the record; your vet's word and your law come first.");
    return harmless(out_);
  }

 private:
  void blank() { out_ += '\n'; }

  /// One paragraph, wrapped; later lines are indented by `hang` more.
  void line(std::string_view text, std::size_t indent = 0, std::size_t hang = 0) {
    std::string row(indent, ' ');
    std::size_t used = indent;
    bool first_word = true;
    const auto flush = [&] {
      out_ += row;
      out_ += '\n';
      row.assign(indent + hang, ' ');
      used = indent + hang;
      first_word = true;
    };
    while (!text.empty()) {
      const auto space = text.find_first_of(" \n");
      std::string_view word = text.substr(0, space);
      text = space == std::string_view::npos ? std::string_view{} : text.substr(space + 1);
      if (word.empty()) continue;
      if (!first_word && used + 1 + width(word) > kWidth) flush();
      // A word longer than the line (a keeper's note without spaces) is cut: the terminal would do it less kindly.
      while (used + width(word) > kWidth && first_word) {
        std::size_t bytes = 0;
        for (std::size_t room = kWidth - used; bytes < word.size(); ++bytes)
          if ((word[bytes] & 0xC0) != 0x80 && room-- == 0) break;
        row += word.substr(0, bytes);
        word.remove_prefix(bytes);
        flush();
      }
      row += first_word ? "" : " ";
      row += word;
      used += width(word) + (first_word ? 0 : 1);
      first_word = false;
    }
    if (!first_word) flush();
  }

  void labelled(std::string_view label, std::string_view text) {
    if (!text.empty()) line(fmt::format("{} {}", label, text), 2, 2);
  }

  [[nodiscard]] std::string when(Instant t) const { return say_day_time(litter_.zone, t); }
  [[nodiscard]] std::string about(const std::string& who) const {
    if (who == "dam") return litter_.dam_name();
    if (litter_.pup(who) == nullptr) return who;
    const std::string collar = litter_.pup(who)->collar();
    return collar.empty() || collar == who ? "pup " + who : fmt::format("pup {} ({})", who, collar);
  }

  void findings() {
    blank();
    if (a_.findings.empty()) {
      line("Nothing calls for a hand by the rules that could be asked; what cannot be told is said below.");
      return;
    }
    bool first = true;
    for (const auto& f : a_.findings) {
      if (!std::exchange(first, false)) blank();
      line(fmt::format("{}  {} - {}", heading(f.level), about(f.about), f.headline));
      labelled("", f.because);
      labelled("Why:", f.why);
      labelled("Do:", f.do_now);
      labelled("Do not:", f.do_not);
      if (f.since) labelled("Since:", when(*f.since));
      labelled("Source:", fmt::format("{}, {} ({}) [{}]", f.source.work, f.source.locator,
                                      reference::name_of(f.source.standing), f.code));
    }
  }

  void due() {
    blank();
    line("DUE");
    if (const auto* none = std::get_if<NotAssessed>(&a_.due)) {
      line(none->code == "PAST" ? "She has whelped." : fmt::format("Cannot tell: {}.", none->why), 2, 2);
      return;
    }
    const auto& f = std::get<due::Forecast>(a_.due);
    line(fmt::format("First pup most likely {}; 9 in 10 between {} and {}.", when(due::told(f.p50)),
                     when(due::told(f.p05)), when(due::told(f.p95))),
         2, 2);
    line(fmt::format("Chance within 6 h {:.0f} %, 12 h {:.0f} %, 24 h {:.0f} %, 48 h {:.0f} %.", f.chance.h6 * 100,
                     f.chance.h12 * 100, f.chance.h24 * 100, f.chance.h48 * 100),
         2, 2);
    for (const auto& c : f.clues) {
      const double hours = c.pull.count();
      const std::string pull = std::abs(hours) < 0.5
                                   ? "hardly moves the answer"
                                   : fmt::format("moves the answer {} h {}", say_number(std::abs(hours), 0),
                                                 hours < 0 ? "earlier" : "later");
      line(fmt::format("- {} ({}; {}, {})", c.says, pull, c.source.work, c.source.locator), 2, 2);
    }
    for (const auto& a : f.adjustments)
      line(fmt::format("- {} ({}, {})", a.says, a.source.work, a.source.locator), 2, 2);
    for (const auto& c : f.conflicts) line(fmt::format("! {}", c.says), 2, 2);
    line(fmt::format("Be at home from {}; whelping box ready by {}; if nothing has happened, ring your vet by {}.",
                     when(due::told_early(f.home_from)), when(f.box_by), when(f.ring_by)),
         2, 2);
    if (f.next_reading) line(fmt::format("Her next temperature tells most if taken {}.", when(*f.next_reading)), 2, 2);
  }

  void whelping() {
    const auto& w = a_.whelping;
    blank();
    line("WHELPING");
    std::string expected = "how many are expected is not known";
    if (w.expected) expected = fmt::format("{}{} expected", w.expected_at_least ? "at least " : "", *w.expected);
    line(fmt::format("Stage: {}. Born {}, alive and in the box {}, {}.", stage(w.stage), w.born, w.alive, expected), 2,
         2);
    if (w.since_last_pup) line(fmt::format("Since the last pup: {}.", say_span(*w.since_last_pup)), 2, 2);
    for (const auto& c : w.clocks) {
      if (c.kind != "last_pup")
        line(fmt::format("{}: {}, since {}.", in_words(c.kind), say_span(a_.at - c.since), when(c.since)), 2, 2);
    }
  }

  /// Gathers who shares a reason, so that twelve pups without a second weight are one line.
  template <class T>
  const T* told(const Assessed<T>& assessed, std::string_view what, const std::string& label) {
    if (const T* value = reference::value_of(assessed)) return value;
    reasons_[fmt::format("{}: {}", what, std::get<NotAssessed>(assessed).why)].push_back(label);
    return nullptr;
  }

  void pups() {
    blank();
    line("PUPS");
    if (a_.pups.empty()) {
      line("None born yet.", 2);
      return;
    }
    out_ += "  " + left("pup", 14) + right("weight", 13) + "  " + left("taken", 17) + right("a day", 18) +
            right("from birth", 12) + "\n";
    const auto unit = litter_.units().weight;
    for (const auto& s : a_.pups) {
      const auto* weight = told(s.weight, "weight", s.label);
      const auto* gain = told(s.gain, "gain a day", s.label);
      const auto* grown = told(s.since_birth, "since birth", s.label);
      const std::string name = s.collar.empty() || s.collar == s.label ? s.label : s.label + " " + s.collar;
      out_ += "  " + left(name, 14) + right(weight != nullptr ? say(weight->what.grams, unit) : "?", 13) + "  " +
              left(weight != nullptr ? when(weight->at) : "?", 17) +
              right(gain != nullptr ? fmt::format("{} g {} %", signed_number(gain->g_per_day, 0),
                                                  signed_number(gain->per_day.count(), 1))
                                    : "?",
                    18) +
              right(grown != nullptr ? signed_number(grown->count(), 0) + " %" : "?", 12) + "\n";
      std::string more;
      if (!s.in_box) more += "no longer in the box; ";
      if (const auto* c = told(s.birth_class, "birth weight", s.label);
          c != nullptr && *c != growth::BirthClass::normal)
        more += *c == growth::BirthClass::low ? "low birth weight; " : "very low birth weight; ";
      if (s.level < reference::Level::note) more += fmt::format("worst finding: {}; ", heading(s.level));
      if (!more.empty()) line(more.substr(0, more.size() - 2), 6, 2);
    }
    for (const auto& [reason, labels] : reasons_) {
      std::string who;
      for (const auto& l : labels) who += (who.empty() ? "" : ", ") + l;
      line(fmt::format("? {} ({} {})", reason, labels.size() == 1 ? "pup" : "pups", who), 2, 2);
    }
  }

  void dam_and_nest() {
    blank();
    line("DAM AND NEST");
    const auto unit = litter_.units().temperature;
    if (const auto* t = reference::value_of(a_.dam.temperature))
      line(fmt::format("{}: {}, taken {}.", a_.dam.name, say(t->what.celsius, unit), when(t->at)), 2, 2);
    else
      line(fmt::format("{}: temperature cannot be told: {}.", a_.dam.name,
                       std::get<NotAssessed>(a_.dam.temperature).why),
           2, 2);
    if (const auto* t = reference::value_of(a_.nest.target))
      line(fmt::format("Box under the lamp should be {} to {} ({}, {}).", say(t->low, unit), say(t->high, unit),
                       t->source.work, t->source.locator),
           2, 2);
    else
      line(fmt::format("Warmth of the box cannot be told: {}.", std::get<NotAssessed>(a_.nest.target).why), 2, 2);
    if (const auto* r = reference::value_of(a_.nest.under_lamp))
      line(fmt::format("Under the lamp: {}, taken {}.", say(r->what.celsius, unit), when(r->at)), 2, 2);
    else
      line(fmt::format("Under the lamp: {}.", std::get<NotAssessed>(a_.nest.under_lamp).why), 2, 2);
    for (const auto& p : a_.feeding.pups) fed(p);
  }

  void fed(const nest::PupFeeding& p) {
    if (p.share == record::FeedShare::none) return;
    std::string said = fmt::format("Pup {}, {} by hand ({}): ", p.label, in_words(record::name_of(p.share)),
                                   p.keepers ? "as decided" : "its weights speak for it");
    if (!p.stops.empty()) {
      said += "nothing now, " + p.stops.front().why;
    } else if (const auto* plan = reference::value_of(p.plan)) {
      said += fmt::format("{} feeds a day of {} ml, {}", plan->today.feeds, say_number(plan->today.each.count(), 2),
                          plan->rise_says);
      if (p.next) said += ", next " + when(*p.next);
    } else {
      said += "cannot tell how much, " + std::get<NotAssessed>(p.plan).why;
    }
    line(said + ".", 2, 2);
  }

  void supplies() {
    const auto& plan = a_.supplies;
    blank();
    line("SUPPLIES");
    if (!plan.begun) {
      line("Nothing is written down.", 2);
      return;
    }
    std::string missing, lacking;
    for (const auto& l : plan.lines) {
      if (l.state == supplies::State::missing && l.is("essential")) missing += (missing.empty() ? "" : "; ") + l.item;
      if (const auto* need = reference::value_of(l.need); need && l.state == supplies::State::short_of)
        lacking += fmt::format("{}{}: {} of {}", lacking.empty() ? "" : "; ", l.item, supplies::say(l.have, l.unit),
                               supplies::say(*need, l.unit));
    }
    line(fmt::format("Reckoned for {} pups; {}.", plan.litter.at(0.95), plan.litter.says), 2, 2);
    line("Essential and not in the house: " + (missing.empty() ? "nothing" : missing) + ".", 2, 2);
    if (!lacking.empty()) line("Too few: " + lacking + ".", 2, 2);
  }

  const advice::Assessment& a_;
  const record::Litter& litter_;
  std::string out_;
  std::map<std::string, std::vector<std::string>> reasons_;
};

}  // namespace

std::string to_text(const advice::Assessment& assessment, const record::Litter& litter) {
  return Writer{assessment, litter}.whole();
}

}  // namespace lampside::exchange
