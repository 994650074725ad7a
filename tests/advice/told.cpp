#include "told.hpp"

#include <fmt/format.h>

namespace lampside::testing {
namespace {

using reference::NotAssessed;

std::string moment(Instant t) { return fmt::format("@{}", t.time_since_epoch().count()); }
std::string moment(const std::optional<Instant>& t) { return t ? moment(*t) : "@-"; }
std::string source(const reference::Citation& c) {
  return fmt::format("[{}; {}; {}]", c.work, c.locator, name_of(c.standing));
}

template <class T, class F>
std::string assessed(const reference::Assessed<T>& a, F f) {
  if (const auto* why = std::get_if<NotAssessed>(&a)) return fmt::format("not assessed {} ({})", why->code, why->why);
  return f(std::get<T>(a));
}
std::string say_number(double n) { return fmt::format("{:a}", n); }

}  // namespace

void each_number(const advice::Assessment& a, const std::function<void(std::string_view, double)>& f) {
  if (const auto* due = reference::value_of(a.due)) {
    f("chance 6 h", due->chance.h6);
    f("chance 12 h", due->chance.h12);
    f("chance 24 h", due->chance.h24);
    f("chance 48 h", due->chance.h48);
    for (const auto& c : due->clues) f("pull of " + c.kind, c.pull.count()), f("weight of " + c.kind, c.weight);
  }
  if (const auto* t = reference::value_of(a.dam.temperature)) f("dam's temperature", t->what.celsius.count());
  for (const auto& p : a.pups) {
    if (const auto* w = reference::value_of(p.weight)) f("weight", w->what.grams.count());
    f("weight's spread", p.weight_sd.count());
    if (const auto* g = reference::value_of(p.gain)) {
      f("gain", g->difference.count());
      f("gain's spread", g->sd.count());
      f("gain in g a day", g->g_per_day);
      f("gain in % a day", g->per_day.count());
    }
    if (const auto* s = reference::value_of(p.since_birth)) f("since birth", s->count());
    if (const auto* pace = reference::value_of(p.pace)) {
      f("weight behind the readings", pace->weight.count());
      f("its spread", pace->weight_sd.count());
      f("pace", pace->per_day.count());
      f("pace's spread", pace->per_day_sd.count());
      f("pace in g a day", pace->g_per_day);
      f("chance to be slow", pace->chance_slow);
      for (const auto ahead : pace->ahead) f("weight ahead", ahead.count());
    }
    for (const auto& point : p.curve) f("point", point.weight.count()), f("its spread", point.sd.count());
  }
  for (const auto& d : a.doubts) f("doubt's factor", d.factor);
  if (const auto* gain = reference::value_of(a.gain)) f("gain against the usual", gain->count());
  if (const auto* t = reference::value_of(a.nest.target))
    f("target low", t->low.count()), f("target high", t->high.count());
  if (const auto* r = reference::value_of(a.nest.under_lamp)) f("under the lamp", r->what.celsius.count());
  for (const auto& l : a.supplies.lines) {
    if (const auto* need = reference::value_of(l.need)) f("need of " + l.item, need->count());
    f("have of " + l.item, l.have.count()), f("lacking of " + l.item, l.lacking.count());
  }
}

std::string told(const advice::Assessment& a, std::string_view leave_out) {
  std::string out = a.litter + " " + moment(a.at) + "\n";
  out += "due: " +
         assessed(a.due,
                  [](const due::Forecast& d) {
                    std::string s = moment(d.p05) + moment(d.p25) + moment(d.p50) + moment(d.p75) + moment(d.p95);
                    for (const auto& c : d.clues) s += fmt::format(" {} {} {}", c.kind, c.says, source(c.source));
                    for (const auto& c : d.conflicts) s += " " + c.says;
                    return s;
                  }) +
         "\n";
  const auto& w = a.whelping;
  out +=
      fmt::format("whelping: {} effort {} born {} alive {} of {}{} placentas {} since last {}", name_of(w.stage),
                  static_cast<int>(w.effort), w.born, w.alive, w.expected.value_or(-1), w.expected_at_least ? "+" : "",
                  w.placentas_seen, w.since_last_pup ? w.since_last_pup->count() : -1);
  for (const auto& c : w.clocks) out += " " + c.kind + moment(c.since);
  out += "\ndam: " + a.dam.name + "\n";
  for (const auto& p : a.pups) {
    out += fmt::format("pup {} {} {}", p.label, p.collar, p.in_box, leave_out.empty() ? name_of(p.level) : "");
    out += " " + assessed(p.weight, [](const auto& n) { return moment(n.at) + n.id; });
    out += " " + assessed(p.gain, [](const auto& g) { return moment(g.from) + moment(g.to); });
    out += " " + assessed(p.birth_class, [](growth::BirthClass c) { return std::string(name_of(c)); });
    out += " " + assessed(p.pace, [](const auto& pace) { return moment(pace.as_of); });
    out += " " + assessed(p.doubled, [](const auto& d) { return moment(d.at); });
    for (const auto& point : p.curve) out += moment(point.at);
    out += "\n";
  }
  for (const auto& d : a.doubts) {
    out += fmt::format("doubt {} {}{}{}", d.likelier, moment(d.at), fmt::format(" open {}", fmt::join(d.open, ",")),
                       d.asked ? " asked" : "");
    for (std::size_t i = 0; i < d.entries.size(); ++i)
      out += fmt::format(" {} {}", d.labels[i], d.would_be[i] ? say_number(d.would_be[i]->count()) : "weigh again");
    out += "\n";
  }
  out += "nest: " + assessed(a.nest.target, [](const auto& t) { return source(t.source); }) + " " +
         assessed(a.nest.under_lamp, [](const auto& r) { return moment(r.at) + r.id; }) + "\n";
  for (const auto& l : a.supplies.lines)
    out += fmt::format("{} {} {} {} {}; ", l.item, supplies::name_of(l.state), record::name_of(l.where), l.packs,
                       l.by ? l.by->time_since_epoch().count() : -1);
  out += "\n";
  each_number(a, [&](std::string_view name, double n) { out += fmt::format("{} {}; ", name, say_number(n)); });
  out += "\n";
  for (const auto& f : a.findings)
    if (f.code != leave_out)
      out +=
          fmt::format("{} {} {} | {} | {} | {} | {} | {} | {} {} {}\n", name_of(f.level), f.code, f.about, f.headline,
                      f.because, f.why, f.do_now, f.do_not, f.professional, source(f.source), moment(f.since));
  return out;
}

}  // namespace lampside::testing
