#include "exchange/report_parts.hpp"

namespace lampside::exchange {
namespace {

class NestWriter {
 public:
  NestWriter(const advice::Assessment& assessment, const record::Litter& litter) : a_{assessment}, litter_{litter} {}

  [[nodiscard]] Json whole() const {
    return {
        {"turns", turns()},
        {"plate", plate()},
        {"milk", milk_supply()},
        {"target", given(a_.nest.target,
                         [](const nest::BoxTarget& t) {
                           return Json{{"low_c", rounded(t.low.count())},
                                       {"high_c", rounded(t.high.count())},
                                       {"line", t.line},
                                       {"source", source(t.source)}};
                         })},
        {"under_lamp", given(a_.nest.under_lamp,
                             [this](const record::Noted<record::Air>& r) {
                               Json out{{"celsius", rounded(r.what.celsius.count())}, {"at", time(r.at)}};
                               if (r.what.humidity) out["humidity"] = rounded(r.what.humidity->count());
                               return out;
                             })},
        {"lamp", given(a_.lamp,
                       [this](const nest::LampAdvice& l) {
                         return Json{
                             {"watts", rounded(l.watts.count())},          {"readings", l.fit.readings},
                             {"room_c", rounded(l.now.room.count())},      {"room_at", time(l.room_at)},
                             {"cm", rounded(l.now.height.count())},        {"cm_low", rounded(l.now.nearest.count())},
                             {"cm_high", rounded(l.now.farthest.count())}, {"at_clearance", l.now.at_clearance},
                             {"reaches_c", rounded(l.now.reaches.count())}};
                       })},
        {"under_lamp_24h_min",
         {{"below", minutes(a_.warmth.below)},
          {"within", minutes(a_.warmth.within)},
          {"above", minutes(a_.warmth.above)}}},
        {"rewarming", rewarming()},
        {"feeding", feeding()}};
  }

 private:
  [[nodiscard]] std::string time(Instant t) const { return to_iso(litter_.zone.stamp(t)); }
  static std::int64_t minutes(Span s) { return std::chrono::floor<Minutes>(s).count(); }

  [[nodiscard]] Json rewarming() const {
    Json out = Json::array();
    for (const auto& r : a_.rewarming)
      out.push_back({{"label", r.label},
                     {"celsius", rounded(r.last.count())},
                     {"at", time(r.at)},
                     {"aim_c", rounded(r.aim.count())},
                     {"check", time(r.check)},
                     {"at_most_c", rounded(r.at_most.count())}});
    return out;
  }

  static Json ration(const nest::Ration& r) {
    return {{"kcal_100g", rounded(r.need.count())},  {"kcal_day", rounded(r.kcal.count())},
            {"ml_day", rounded(r.day.count())},      {"feeds_day", r.feeds},
            {"ml_feed", rounded(r.each.count())},    {"ml_feed_exact", rounded(r.exact.count())},
            {"stomach_ml", rounded(r.room.count())}, {"stomach_binds", r.room_binds}};
  }

  [[nodiscard]] Json fed_pup(const nest::PupFeeding& p) const {
    Json stops = Json::array();
    for (const auto& s : p.stops) stops.push_back({{"code", s.code}, {"why", s.why}});
    Json out{{"label", p.label},
             {"share", record::name_of(p.share)},
             {"decided_by", p.keepers ? "keeper" : "weights"},
             {"advised", record::name_of(p.advised)},
             {"stops", stops},
             {"plan", given(p.plan,
                            [this](const nest::Plan& plan) {
                              return Json{{"grams", rounded(plan.weight.grams.count())},
                                          {"weighed", time(plan.weight.weighed)},
                                          {"low", ration(plan.low)},
                                          {"today", ration(plan.today)},
                                          {"high", ration(plan.high)},
                                          {"says", plan.rise_says},
                                          {"low_source", source(plan.low_source)},
                                          {"high_source", source(plan.high_source)}};
                            })},
             {"fed_24h",
              {{"feeds", p.fed.feeds},
               {"ml", rounded(p.fed.ml.count())},
               {"kcal", rounded(p.fed.kcal.count())},
               {"without_energy", p.fed.without_energy}}}};
    if (!p.because.empty()) out["because"] = p.because;
    if (p.last) out["last"] = time(*p.last);
    if (p.next) out["next"] = time(*p.next);
    if (p.colostrum)
      out["colostrum"] = {{"closing", time(p.colostrum->closing)},
                          {"ends_early", time(p.colostrum->ends_early)},
                          {"ends_late", time(p.colostrum->ends_late)},
                          {"suckled", p.colostrum->suckled}};
    return out;
  }

  [[nodiscard]] Json feeding() const {
    Json pups = Json::array();
    for (const auto& p : a_.feeding.pups) pups.push_back(fed_pup(p));
    return {{"milk", given(a_.feeding.milk,
                           [](const nest::Milk& m) {
                             return Json{{"name", m.name},
                                         {"kcal_ml", rounded(m.density.count())},
                                         {"worked_out", m.worked_out}};
                           })},
            {"tube_shown", a_.feeding.tube_shown_by.has_value()},
            {"pups", pups}};
  }

  [[nodiscard]] Json turns() const {
    const auto& t = a_.turns;
    return {{"on", t.on},
            {"pups", t.pups},
            {"teats", t.teats ? Json(*t.teats) : not_assessed("NO_DATA", "not written down")},
            {"session_min", t.session.count()},
            {"plan", given(t.plan, [this](const nest::TurnPlan& plan) {
               Json groups = Json::array(), shifts = Json::array();
               for (const auto& g : plan.groups)
                 groups.push_back({{"pups", g.pups}, {"gap_min", g.gap.count()}, {"sessions", g.sessions}});
               for (const auto& s : plan.shifts)
                 shifts.push_back({{"from", time(s.from)},
                                   {"to", time(s.to)},
                                   {"group", s.group + 1},
                                   {"pups", s.pups},
                                   {"wakes", s.wakes}});
               return Json{{"groups", groups},
                           {"shifts", shifts},
                           {"small", plan.small},
                           {"always", plan.always},
                           {"wakings", plan.wakings}};
             })}};
  }

  [[nodiscard]] static Json kcal(Kilocalories k) { return rounded(k.count()); }
  [[nodiscard]] static Json need(const nest::Need& n) {
    Json out{{"stage", nest::name_of(n.stage)}, {"kcal", kcal(n.kcal)}};
    if (n.stage == nest::Stage::nursing)
      out["week"] = n.week, out["pups"] = n.pups, out["kcal_by_book"] = kcal(*n.book);
    return out;
  }
  [[nodiscard]] Json plate() const {
    const auto& plate = a_.plate;
    Json ahead = Json::array(), past = Json::array(), weaning = Json::array(), curve = Json::array();
    for (const auto& days : plate.ahead) {
      Json one = need(days.need);
      one["from"] = to_iso(days.from), one["to"] = to_iso(days.to);
      one["grams"] = given(plate.in_food(days.need.kcal), [](Grams g) { return Json(rounded(g.count())); });
      ahead.push_back(one);
    }
    for (const auto& day : plate.past)
      past.push_back({{"day", to_iso(day.day)},
                      {"need", given(day.need, need)},
                      {"given_kcal", kcal(day.given)},
                      {"meals", day.meals},
                      {"meals_unknown", day.unknown}});
    for (const auto& step : plate.weaning)
      weaning.push_back({{"week", step.week},
                         {"from", to_iso(step.from)},
                         {"to", to_iso(step.to)},
                         {"solid_pct", step.row->value},
                         {"says", step.row->says},
                         {"source", source(step.row->source)}});
    for (const auto& point : plate.curve)
      curve.push_back({{"at", time(point.at)},
                       {"kg", rounded(point.weight.count())},
                       {"change_pct", rounded(point.change.count())}});
    return {{"weight_kg", given(plate.weight, [](Kilograms k) { return Json(rounded(k.count())); })},
            {"today", given(plate.today, need)},
            {"grams", given(plate.grams, [](Grams g) { return Json(rounded(g.count())); })},
            {"giant", plate.giant},
            {"ahead", ahead},
            {"past", past},
            {"curve", curve},
            {"weaning", weaning}};
  }
  [[nodiscard]] Json milk_supply() const {
    return given(a_.milk, [](const nest::MilkSupply& milk) {
      Json weeks = Json::array();
      for (const auto& w : milk.weeks)
        weeks.push_back({{"week", w.week},
                         {"from", to_iso(w.from)},
                         {"to", to_iso(w.to)},
                         {"supply_g", rounded(w.supply.count())},
                         {"need_g", rounded(w.need.count())},
                         {"short_pct", rounded(w.short_pct.count())},
                         {"short_worst_pct", rounded(w.short_worst.count())},
                         {"lacking_g", rounded(w.lacking.count())},
                         {"lacking_kcal", rounded(w.lacking_kcal.count())}});
      return Json{{"dam_kg", rounded(milk.dam.count())}, {"pups", milk.pups}, {"weeks", weeks}};
    });
  }

  const advice::Assessment& a_;
  const record::Litter& litter_;
};

}  // namespace

Json nest_to_json(const advice::Assessment& assessment, const record::Litter& litter) {
  return NestWriter{assessment, litter}.whole();
}

}  // namespace lampside::exchange
