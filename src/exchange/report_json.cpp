#include <cmath>
#include <map>
#include <tuple>

#include "exchange/report_parts.hpp"

namespace lampside::exchange {
namespace {

class Writer {
 public:
  Writer(const advice::Assessment& assessment, const record::Litter& litter) : a_{assessment}, litter_{litter} {}

  [[nodiscard]] Json whole() const {
    Json pups = Json::array();
    for (const auto& p : a_.pups) pups.push_back(pup(p));
    Json findings = Json::array();
    for (const auto& f : a_.findings) findings.push_back(finding(f));
    return {{"at", time(a_.at)},
            {"litter", a_.litter},
            {"due", given(a_.due, [this](const auto& d) { return due(d); })},
            {"whelping", whelping()},
            {"dam", dam()},
            {"pups", pups},
            {"doubts", doubts()},
            {"gain_pct", given(a_.gain, [](Percent p) { return Json(rounded(p.count())); })},
            {"nest", nest_to_json(a_, litter_)},
            {"dosing", dosing()},
            {"care", care()},
            {"supplies", supplies()},
            {"homes", homes()},
            {"findings", findings}};
  }

 private:
  [[nodiscard]] std::string time(Instant t) const { return to_iso(litter_.zone.stamp(t)); }

  [[nodiscard]] Json due(const due::Forecast& f) const {
    Json clues = Json::array();
    for (const auto& c : f.clues)
      clues.push_back({{"kind", c.kind},
                       {"says", c.says},
                       {"pull_h", rounded(c.pull.count())},
                       {"weight", rounded(c.weight)},
                       {"odd", rounded(c.odd)},
                       {"source", source(c.source)}});
    Json adjustments = Json::array();
    for (const auto& a : f.adjustments)
      adjustments.push_back({{"says", a.says}, {"days", rounded(a.shift.count())}, {"source", source(a.source)}});
    Json conflicts = Json::array();
    for (const auto& c : f.conflicts) conflicts.push_back({{"says", c.says}, {"culprit", c.culprit}});
    Json out{{"p05", time(f.p05)},
             {"p25", time(f.p25)},
             {"p50", time(f.p50)},
             {"p75", time(f.p75)},
             {"p95", time(f.p95)},
             {"chance",
              {{"6h", rounded(f.chance.h6)},
               {"12h", rounded(f.chance.h12)},
               {"24h", rounded(f.chance.h24)},
               {"48h", rounded(f.chance.h48)}}},
             {"home_from", time(f.home_from)},
             {"box_by", time(f.box_by)},
             {"ring_by", time(f.ring_by)},
             {"clues", clues},
             {"adjustments", adjustments},
             {"conflicts", conflicts}};
    if (f.next_reading) out["next_reading"] = time(*f.next_reading);
    return out;
  }

  [[nodiscard]] Json whelping() const {
    const auto& w = a_.whelping;
    Json clocks = Json::array();
    for (const auto& c : w.clocks)
      clocks.push_back({{"kind", c.kind}, {"since", time(c.since)}, {"min", minutes(a_.at - c.since)}});
    return {
        {"stage", whelping::name_of(w.stage)},
        {"effort", w.effort == whelping::Effort::strong ? "strong"
                   : w.effort == whelping::Effort::weak ? "weak"
                                                        : "none"},
        {"born", w.born},
        {"alive", w.alive},
        {"expected", w.expected ? Json(*w.expected) : not_assessed("NO_DATA", "no count by X-ray or ultrasound yet")},
        {"expected_at_least", w.expected_at_least},
        {"since_last_pup_min",
         w.since_last_pup ? Json(w.since_last_pup->count()) : not_assessed("NOT_BORN", "no pup is born yet")},
        {"next_pup_min", given(w.next_pup,
                               [](const whelping::NextPup& n) {
                                 return Json{{"p25", n.p25.count()}, {"p50", n.p50.count()}, {"p90", n.p90.count()}};
                               })},
        {"last_pup_min", given(w.last_pup,
                               [](const whelping::NextPup& n) {
                                 return Json{{"p25", n.p25.count()}, {"p50", n.p50.count()}, {"p90", n.p90.count()}};
                               })},
        {"one_left",
         given(w.one_left,
               [](const whelping::OneLeft& o) { return Json{{"chance", rounded(o.chance)}, {"says", o.says}}; })},
        {"clocks", clocks},
        {"placentas_seen", w.placentas_seen}};
  }

  [[nodiscard]] Json dam() const {
    return {{"name", a_.dam.name}, {"temperature", given(a_.dam.temperature, [this](const auto& t) {
                                      return Json{{"celsius", rounded(t.what.celsius.count())}, {"at", time(t.at)}};
                                    })}};
  }

  [[nodiscard]] Json pup(const growth::Standing& s) const {
    const auto gain = [&s](auto figure) {
      return given(s.gain, [&](const growth::Gain& g) { return Json(rounded(figure(g))); });
    };
    Json out{
        {"label", s.label},
        {"collar", s.collar},
        {"in_box", s.in_box},
        {"grams", given(s.weight, [](const auto& w) { return Json(rounded(w.what.grams.count())); })},
        {"weighed", given(s.weight, [this](const auto& w) { return Json(time(w.at)); })},
        {"grams_sd", given(s.weight, [&s](const auto&) { return Json(rounded(s.weight_sd.count())); })},
        {"gain_g", gain([](const growth::Gain& g) { return g.difference.count(); })},
        {"gain_g_sd", gain([](const growth::Gain& g) { return g.sd.count(); })},
        {"gain_g_day", gain([](const growth::Gain& g) { return g.g_per_day; })},
        {"gain_pct_day", gain([](const growth::Gain& g) { return g.per_day.count(); })},
        {"gain_from", given(s.gain, [this](const growth::Gain& g) { return Json(time(g.from)); })},
        {"since_birth_pct", given(s.since_birth, [](Percent p) { return Json(rounded(p.count())); })},
        {"chance_slow", given(s.pace, [](const growth::Pace& p) { return Json(rounded(p.chance_slow)); })},
        {"pace", given(s.pace,
                       [this](const growth::Pace& p) {
                         return Json{
                             {"grams", rounded(p.weight.count())},    {"grams_sd", rounded(p.weight_sd.count())},
                             {"pct_day", rounded(p.per_day.count())}, {"pct_day_sd", rounded(p.per_day_sd.count())},
                             {"g_day", rounded(p.g_per_day)},         {"as_of", time(p.as_of)}};
                       })},
        {"place", s.place ? Json{{"place", s.place->place}, {"of", s.place->of}}
                          : not_assessed("NO_DATA", "not weighed, or not in the box")},
        {"doubled",
         given(s.doubled,
               [this](const growth::Doubling& d) { return Json{{"at", time(d.at)}, {"foreseen", d.foreseen}}; })},
        {"birth_class", given(s.birth_class, [](growth::BirthClass c) { return Json(growth::name_of(c)); })},
        {"level", reference::name_of(s.level)},
        {"weigh_next", s.weigh_next ? Json(time(*s.weigh_next)) : not_assessed("GONE", "not in the box")},
        {"forecast", given(s.pace, [this](const growth::Pace& p) {
           Json days = Json::object();
           for (std::size_t d = 0; d < p.ahead.size(); ++d)
             days[to_iso(litter_.zone.day_of(p.as_of + std::chrono::hours{24 * (d + 1)}))] =
                 rounded(p.ahead[d].count());
           return days;
         })}};
    return out;
  }

  [[nodiscard]] Json doubts() const {
    Json out = Json::array();
    for (const auto& d : a_.doubts) {
      Json would_be = Json::object();
      for (std::size_t i = 0; i < d.entries.size(); ++i)
        would_be[d.entries[i]] =
            d.would_be[i] ? Json(rounded(d.would_be[i]->count())) : not_assessed("NO_DATA", "weigh again");
      out.push_back({{"entries", d.entries},
                     {"about", d.labels},
                     {"likelier", d.likelier},
                     {"factor", rounded(d.factor)},
                     {"would_be", would_be},
                     {"at", time(d.at)},
                     {"open", !d.open.empty()},
                     {"asked", d.asked}});
    }
    return out;
  }

  [[nodiscard]] Json homes() const {
    const auto& order = a_.homes;
    Json families = Json::array();
    for (const auto& f : order.families) {
      Json one{{"family", f.family}, {"place", f.place}, {"withdrawn", f.withdrawn}, {"passes", f.passes}};
      if (f.deposit) one["deposit"] = time(*f.deposit);
      if (f.pup) one["pup"] = *f.pup, one["gone"] = f.gone;
      families.push_back(std::move(one));
    }
    Json out{{"order", record::name_of(order.rule.order)},
             {"families", families},
             {"keeper", order.keeper},
             {"free", order.free_pups},
             {"why", order.why}};
    if (order.next) out["next"] = *order.next;
    return out;
  }

  [[nodiscard]] Json supplies() const {
    const auto& plan = a_.supplies;
    const auto day = [](const std::optional<CivilDay>& d, std::string_view why) {
      return d ? Json(to_iso(*d)) : not_assessed("NO_DATA", why);
    };
    Json out = Json::array();
    for (const auto& l : plan.lines) {
      const auto amount = [](Amount a) { return Json(rounded(a.count())); };
      Json line{{"item", l.item},
                {"purpose", l.purpose},
                {"unit", l.unit},
                {"group", l.group},
                {"state", supplies::name_of(l.state)},
                {"where", record::name_of(l.where)},
                {"need", given(l.need, amount)},
                {"need_half", given(l.need_half, amount)},
                {"have", amount(l.have)},
                {"lacking", amount(l.lacking)},
                {"pups", plan.litter.at(0.95)},
                {"by", day(l.by, "nothing dates this litter yet")},
                {"to_try", l.to_try},
                {"expired", l.expired},
                {"runs_out", l.runs_out},
                {"car", l.car}};
      if (l.opened) line["opened"] = to_iso(*l.opened);
      if (l.row) line["source"] = source(l.row->source);
      if (l.row && !l.row->differs.empty()) line["differs"] = l.row->differs;
      if (l.expires) line["expires"] = to_iso(*l.expires);
      if (l.tried) line["tested"] = to_iso(*l.tried);
      if (l.packs > 0) line["packs"] = l.packs;
      if (l.cost) line["cost"] = l.cost->number();
      out.push_back(std::move(line));
    }
    return out;
  }

  /// The plan, the same task of several animals in one.
  [[nodiscard]] Json care() const {
    if (a_.care.items.empty()) return not_assessed("NO_DATA", "no mating, no test and no birth: nothing to count from");
    Json out = Json::array();
    std::map<std::tuple<std::string_view, care::State, CivilDay, CivilDay, CivilDay, std::string_view>, std::size_t> at;
    for (const auto& item : a_.care.items) {
      const auto [place, fresh] =
          at.try_emplace({item.task, item.state, item.opens, item.best, item.closes, item.why}, out.size());
      if (!fresh) {
        out[place->second]["about"].push_back(item.about);
        continue;
      }
      Json one{{"task", item.task},
               {"what", item.what},
               {"about", Json::array({item.about})},
               {"kind", item.row ? item.row->kind : "task"},
               {"opens", to_iso(item.opens)},
               {"best", to_iso(item.best)},
               {"closes", to_iso(item.closes)},
               {"state", care::name_of(item.state)},
               {"expected", item.expected}};
      if (item.done) one["done"] = to_iso(*item.done);
      if (!item.why.empty()) one["why"] = item.why;
      if (item.row) one["source"] = source(item.row->source);
      out.push_back(std::move(one));
    }
    return out;
  }

  static Json portion(const care::Portion& p) {
    return {{p.in == care::Measured::grams ? "g" : std::string(care::name_of(p.in)), rounded(p.count)}};
  }

  [[nodiscard]] Json dosing() const {
    Json out = Json::array();
    for (const auto& round : a_.dosing) {
      Json dogs = Json::array();
      for (const auto& dog : round.dogs) {
        Json one{{"about", dog.about}, {"given", dog.given.size()}, {"day", dog.day}};
        Json refused = Json::array();
        for (const auto& r : dog.refused) refused.push_back(not_assessed(r.code, r.why));
        one["refused"] = refused;
        if (dog.skipped) one["left_out"] = dog.skipped->what.reason;
        if (const auto* w = reference::value_of(dog.weight)) one["grams"] = rounded(w->grams.count());
        if (dog.dose) {
          one["give"] = portion(dog.dose->give);
          one["label_says"] = portion(dog.dose->exact);
          Json mg_kg = Json::array();
          for (const auto mg : dog.dose->gives) mg_kg.push_back(rounded(mg.count()));
          one["mg_kg"] = mg_kg;
          if (dog.dose->above) one["or"] = portion(*dog.dose->above);
        }
        dogs.push_back(one);
      }
      Json one{{"product", round.product}, {"dogs", dogs}};
      if (!round.label) one["label"] = not_assessed("LABEL", round.label.error().what);
      if (round.together) one["together"] = portion(*round.together);
      if (round.course)
        one["course"] = {{"treatments", round.treatments},
                         {"doses", round.course->doses},
                         {"likely", portion(round.course->likely)},
                         {"heavy", portion(round.course->heavy)}};
      out.push_back(one);
    }
    return out;
  }

  [[nodiscard]] Json finding(const reference::Finding& f) const {
    Json out{{"code", f.code},
             {"level", reference::name_of(f.level)},
             {"about", f.about},
             {"headline", f.headline},
             {"because", f.because},
             {"why", f.why},
             {"do", f.do_now},
             {"do_not", f.do_not},
             {"professional", f.professional},
             {"source", source(f.source)}};
    if (f.since) out["since"] = time(*f.since);
    return out;
  }

  static std::int64_t minutes(Span s) { return std::chrono::floor<Minutes>(s).count(); }

  const advice::Assessment& a_;
  const record::Litter& litter_;
};

}  // namespace

record::Json to_json(const advice::Assessment& assessment, const record::Litter& litter) {
  return Writer{assessment, litter}.whole();
}

}  // namespace lampside::exchange
