#include "advice/call.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace lampside::advice {
namespace {

using record::body_as;
using record::Entry;
using record::Litter;
using reference::Level;
using std::chrono::hours;

std::string who_of(const Litter& litter) {
  std::string out = litter.dam_name();
  if (const auto breed = litter.breed(); !breed.empty()) out += ", " + breed;
  const auto& dam = litter.facts.dam;
  if (dam && dam->kg) out += fmt::format(", {} kg", say_number(dam->kg->count(), 1));
  if (dam && dam->parity)
    out += *dam->parity == 0 ? ", first litter" : fmt::format(", litter number {}", *dam->parity + 1);
  return out;
}

std::string state_of(const Litter& litter, const Assessment& a) {
  const auto& w = a.whelping;
  std::string out = fmt::format("{} born, {} alive", w.born, w.alive);
  out += w.expected ? fmt::format(", {}{} counted before birth", w.expected_at_least ? "at least " : "", *w.expected)
                    : std::string(", nobody counted before birth");
  if (w.born > 0) out += fmt::format(", {} placentas seen", w.placentas_seen);
  if (w.since_last_pup) out += fmt::format("; last pup {} ago", say_span(*w.since_last_pup));
  if (const auto* t = reference::value_of(a.dam.temperature))
    out += fmt::format("; her temperature {} at {}", say(t->what.celsius, litter.units().temperature),
                       say_day_time(litter.zone, t->at));
  return out;
}

/// What a vet wants to hear of an entry; empty for what does not belong in a call.
std::string told(const Litter& litter, const Entry& e) {
  const auto units = litter.units();
  const std::string pup = e.about.empty() || e.about == "dam" ? "" : "pup " + e.about + ": ";
  if (const auto* s = body_as<record::SignSeen>(e)) return pup + in_words(record::name_of(s->sign));
  if (const auto* b = body_as<record::Birth>(e)) {
    std::string out = fmt::format("pup {} born{}", e.about, b->alive.value_or(true) ? "" : " dead");
    if (b->grams) out += ", " + say(*b->grams, units.weight);
    if (b->presentation == record::Presentation::tail_first) out += ", tail first";
    return out;
  }
  if (body_as<record::PlacentaPassed>(e)) return "placenta passed";
  if (const auto* t = body_as<record::Temperature>(e))
    return (pup.empty() ? "her temperature " : pup) + say(t->celsius, units.temperature);
  if (const auto* s = body_as<record::NewbornScore>(e)) return pup + fmt::format("newborn score {} of 10", s->total());
  if (body_as<record::Death>(e)) return pup.empty() ? "she died" : pup + "died";
  return {};
}

std::string done_with(const Entry& e) {
  const std::string whom = e.about.empty() || e.about == "dam" ? "" : "pup " + e.about + ": ";
  if (const auto* d = body_as<record::Dose>(e))
    return whom + "given " + d->product + (d->ml ? fmt::format(" {} ml", say_number(d->ml->count(), 2)) : "");
  if (const auto* d = body_as<record::Done>(e)) return whom + in_words(d->task);
  if (body_as<record::Note>(e) && !e.note.empty()) return whom + e.note;
  return {};
}

}  // namespace

CallSheet call_sheet(const Litter& litter, const Assessment& a) {
  CallSheet out;
  out.who = who_of(litter);
  for (const auto& f : a.findings) {
    const auto* pup = litter.pup(f.about);
    // What a keeper is told to do at once is worth a word too; what the calendar asks for is not.
    if (f.level > Level::act || (f.level == Level::act && !pup && f.about != "dam")) continue;
    out.urgent = out.urgent || f.level <= Level::call_vet;
    out.emergency = out.emergency || f.level == Level::emergency;
    std::string says = f.because;
    if (pup) says.insert(0, "pup " + pup->label + ": ");
    out.what.push_back(says);
  }
  out.state = state_of(litter, a);
  Instant from = a.at - hours{24};
  for (const auto& clock : a.whelping.clocks) from = std::min(from, clock.since);
  for (const auto& e : litter.log) {
    if (e.at.instant < from || e.at.instant > a.at) continue;
    const std::string when = say_time(litter.zone, e.at.instant);
    if (auto says = done_with(e); !says.empty()) out.done.push_back(fmt::format("{} {}", when, says));
    if (auto says = told(litter, e); !says.empty()) {
      if (!e.note.empty()) says += " (" + e.note + ")";
      out.timeline.push_back({e.at.instant, std::move(says)});
    }
  }
  const auto& vet = litter.facts.vet;
  out.drive = vet && vet->minutes_away ? fmt::format("we are {} minutes away by car", *vet->minutes_away)
                                       : std::string("how long the drive takes is not written down");
  out.asked = out.emergency ? "May we come now? What shall I do until we are there?"
              : out.urgent  ? "What shall I do now, and when do you want to see her?"
              : !out.what.empty()
                  ? "This asks for a hand at once: see Now. If it does not help, or if you are uneasy, ring."
                  : "Nothing on record asks for a call. If you are uneasy, ring all the same.";
  return out;
}

std::string call_text(const CallSheet& sheet, const Litter& litter, Instant now) {
  std::string out = fmt::format("Call to the vet, {}\n\nWho: {}\n", say_day_time(litter.zone, now), sheet.who);
  for (const auto& what : sheet.what) out += "What: " + what + "\n";
  out += "How it stands: " + sheet.state + "\n";
  for (const auto& done : sheet.done) out += "Done: " + done + "\n";
  if (sheet.done.empty()) out += "Done: nothing is written down\n";
  out += "Drive: " + sheet.drive + "\nAsked: " + sheet.asked + "\n";
  if (const auto& vet = litter.facts.vet) {
    if (vet->phone) out += "Vet: " + *vet->phone + "\n";
    if (vet->night_phone) out += "Vet at night: " + *vet->night_phone + "\n";
  }
  out += "\nThe night so far:\n";
  for (const auto& line : sheet.timeline) out += say_day_time(litter.zone, line.at) + "  " + line.says + "\n";
  if (sheet.timeline.empty()) out += "nothing is written down\n";
  return out;
}

}  // namespace lampside::advice
