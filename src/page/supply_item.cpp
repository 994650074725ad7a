// One item of Supplies: the kit check, where it is one item a tap, and the item's own page with everything about it.
#include <algorithm>

#include "page/supplies.hpp"

namespace lampside::page {

using record::Keeping;
using supplies::Line;
using supplies::State;

std::string_view words_for(State state) {
  switch (state) {
    case State::missing:
      return "missing";
    case State::short_of:
      return "too few";
    case State::enough:
      return "enough";
    case State::not_needed:
      return "not needed";
  }
  return "";
}

std::string_view words_for(Keeping where) {
  switch (where) {
    case Keeping::kit:
      return "in the kit";
    case Keeping::house:
      return "elsewhere in the house";
    case Keeping::to_make:
      return "to be made";
    case Keeping::to_buy:
      return "to be bought";
  }
  return "";
}

std::string item_href(const View& view, const Line& line) {
  return litter_href(view.litter, "supplies?item=" + percent_encode(line.item));
}

std::string say_have(const Line& line) {
  std::string out = line.present() ? supplies::say(line.have, line.state == State::short_of ? "" : line.unit) : "none";
  if (const auto* need = reference::value_of(line.need); need && line.lacking.count() > 0 && need->count() > 1)
    out += " of " + supplies::say(*need, line.unit);
  if (line.expired) out = "out of date";
  if (line.present()) out += ", " + std::string(words_for(line.where));
  return out;
}

std::string say_to_buy(const Line& line) {
  if (line.packs > 0)
    return std::to_string(line.packs) + (line.packs == 1 ? " pack of " : " packs of ") +
           supplies::say(*line.pack, line.unit);
  return supplies::say(line.lacking, line.unit);
}

std::string say_by(const View& view, const Line& line) {
  if (line.by && *line.by < view.litter.zone.day_of(view.now))
    return (line.purpose.empty() ? "wanted since " : ", wanted since ") + say_day(*line.by);
  return line.by ? (line.purpose.empty() ? "by " : ", by ") + say_day(*line.by) : "";
}

namespace {

bool is_weighed(const Line& line) { return line.unit == "g" || line.unit == "kg" || line.unit == "ml"; }
/// What one tap of "used" takes off.
std::optional<Amount> one_of(const Line& line) {
  if (is_weighed(line)) return line.pack;
  return Amount{1};
}

}  // namespace

bool is_used_up(const Line& line) {
  return line.have.count() > 0 && one_of(line) && (!line.unit.empty() || line.have.count() > 1);
}

Html used_one(const View& view, const Line& line, const std::string& back, std::size_t n) {
  const auto one = *one_of(line);
  return one_tap(view, "used" + (n > 0 ? "-" + std::to_string(n) : ""), "stock", "", back,
                 {{"item", line.item}, {"used", say_number(one.count(), 3)}},
                 text(is_weighed(line) ? "Used a pack" : "Used 1") + span("unseen", text(", " + line.item)),
                 "button quiet");
}

Html opened_today(const View& view, const Line& line, const std::string& back, std::size_t n) {
  return one_tap(view, "opened-today-" + std::to_string(n), "stock", "", back,
                 {{"item", line.item}, {"opened", to_iso(view.litter.zone.day_of(view.now))}},
                 text("Opened today") + span("unseen", text(", " + line.item)), "button quiet");
}

Instant kit_round(const View& view, const std::string& check) {
  const auto begun = parse_number(check);
  if (begun && *begun > 1e9 && *begun < 1e14) return Instant{Span{static_cast<std::int64_t>(*begun)}};
  return view.now - std::chrono::hours{12};
}

namespace {

std::string today_of(const View& view) { return to_iso(view.litter.zone.day_of(view.now)); }
bool asks_to_be_tried(const Line& line) { return line.row && line.row->tried_within_d > 0; }

/// The amount a tap of "there" stands for: what is asked for, or what was counted if that is more.
Amount enough_of(const Line& line) {
  const auto* need = reference::value_of(line.need);
  return Amount{std::max({1.0, line.have.count(), need ? need->count() : 0.0})};
}

Html what_differs(const Line& line) {
  Html out;
  if (!line.row) return out;
  if (!line.row->note.empty()) out += p("", text(line.row->note));
  if (!line.row->differs.empty()) out += p("conflict", text("Sources differ. " + std::string(line.row->differs)));
  return out + source_line(line.row->source);
}

Html step(const View& view, const Line& line, const std::string& back, const std::string& skip) {
  const auto enough = enough_of(line);
  const auto tap = [&](std::string_view name, Keeping where, Amount have, bool tried, const std::string& label,
                       std::string_view cls) {
    std::vector<std::pair<std::string, std::string>> fields{
        {"item", line.item}, {"where", std::string(record::name_of(where))}, {"have", say_number(have.count(), 3)}};
    if (tried) fields.emplace_back("tested", today_of(view));
    return one_tap(view, "kit-" + std::string(name), "stock", "", back, fields, text(label), cls);
  };
  const std::string there = enough.count() > 1 ? "There, " + supplies::say(enough, line.unit) : "There";
  Html buttons;
  if (asks_to_be_tried(line))
    buttons += tap("works", Keeping::kit, enough, true, "There, and it works", "button kit-tap");
  buttons += tap("there", Keeping::kit, enough, false, asks_to_be_tried(line) ? "There, not tried now" : there,
                 asks_to_be_tried(line) ? "button quiet kit-tap" : "button kit-tap");
  if (enough.count() > 1) {
    Form form{view, "kit-some", "stock", "", back};
    form.hidden("item", line.item);
    form.hidden("where", "kit");
    buttons += form.finish(
        div("field-row", form.field("have", "There, but not so many", {.mode = "decimal", .required = true}) +
                             Form::submit("Save", "button quiet")),
        "stack");
  }
  buttons += tap("house", Keeping::house, enough, false, "Elsewhere in the house", "button quiet kit-tap");
  buttons += tap("none", line.is("make") ? Keeping::to_make : Keeping::to_buy, Amount{0}, false, "Not there",
                 "button quiet kit-tap");
  std::string said = sentence(line.purpose);
  if (line.spoken_of) said += (said.empty() ? "" : ". ") + std::string("Written down: ") + say_have(line);
  return element("section", {{"class", "card kit-step"}},
                 h2(text(sentence(line.item))) + p("", text(said)) + div("kit-taps", buttons) +
                     div("ends", link(skip, text("Skip"), "button quiet") +
                                     link(item_href(view, line), text("More about it"), "button quiet")));
}

Html field_of(const Form& form, const char* name, const char* label, const std::optional<Amount>& now,
              const std::string& hint = "") {
  return form.field(name, label, {.value = now ? say_number(now->count(), 3) : "", .hint = hint, .mode = "decimal"});
}

}  // namespace

std::string kit_page(const View& view) {
  const std::string check = view.query.at("check");
  const auto since = kit_round(view, check);
  const auto lines = supplies::kit(view.assessment.supplies);
  const auto after_text = view.query.find("after");
  const auto after = after_text == view.query.end() ? Result<double>{0.0} : parse_number(after_text->second);
  const auto from = after && *after >= 0 && *after < 1e6 ? static_cast<std::size_t>(*after) : 0;
  const auto address = [&](std::size_t skipped) {
    return "supplies?check=" + percent_encode(check) + (skipped > 0 ? "&after=" + std::to_string(skipped) : "");
  };
  const auto open = [&](const Line* line) { return !line->seen || *line->seen < since; };
  const auto left = static_cast<std::size_t>(std::count_if(lines.begin(), lines.end(), open));
  const auto done = lines.size() - left;
  const std::string count = std::to_string(done) + " of " + std::to_string(lines.size()) + " looked at";
  Html main =
      element("progress",
              {{"max", std::to_string(lines.size())}, {"value", std::to_string(done)}, {"aria-label", "Looked at"}}) +
      p("hint", text(count));
  for (std::size_t i = 0; i < lines.size(); ++i) {
    if (i < from || !open(lines[i])) continue;
    main += step(view, *lines[i], address(from), litter_href(view.litter, address(i + 1)));
    main += p("", link(litter_href(view.litter, "supplies"), text("Stop here, and go on later")));
    return page_of(view, {.title = "Kit check", .screen = "supplies", .back = address(from)}, main);
  }
  Html missing;
  for (const auto* line : lines)
    if (line->state == State::missing || line->state == State::short_of || line->to_try)
      missing += element("li", {},
                         link(item_href(view, *line), text(sentence(line->item))) +
                             text(line->state == State::missing    ? ": missing"
                                  : line->state == State::short_of ? ": too few"
                                                                   : ": not tried"));
  main += element(
      "section", {{"class", "card"}},
      h2(text(left == 0 ? "All looked at" : std::to_string(left) + " skipped")) +
          (missing.empty() ? p("", text("The kit is complete.")) : element("ul", {}, missing)) +
          div("ends", (left > 0 ? link(litter_href(view.litter, address(0)), text("Go to the skipped ones"), "button")
                                : Html{}) +
                          link(litter_href(view.litter, "supplies#shop"), text("To the shopping list"), "button") +
                          link(litter_href(view.litter,
                                           "supplies?check=" + std::to_string(view.now.time_since_epoch().count())),
                               text("Look through it all again"), "button quiet")));
  return page_of(view, {.title = "Kit check", .screen = "supplies", .back = address(0)}, main);
}

namespace {

/// The fields of the item's form that hold something now: emptied there, they are cleared.
std::string held_by(const record::Stock& s) {
  std::string out;
  const auto add = [&](const char* name, bool holds) {
    if (holds) out += (out.empty() ? "" : " ") + std::string(name);
  };
  add("expires", s.expires.has_value());
  add("tested", s.tested.has_value());
  add("pack", s.pack.has_value());
  add("cost", s.cost.has_value());
  add("keeps_open_d", s.keeps_open_d.has_value());
  add("opened", s.opened.has_value());
  add("need", s.need.has_value());
  add("need_per_pup", s.need_per_pup.has_value());
  add("days_before", s.days_before.has_value());
  return out;
}

/// What was taken of it, and since when the pack is open.
Html use_card(const View& view, const Line& line, const std::string& back) {
  if (!line.present()) return {};
  Form form{view, "used-some", "stock", "", back};
  form.hidden("item", line.item);
  Html body =
      form.finish(div("field-row", form.field("used", "Used" + (line.unit.empty() ? std::string{} : ", " + line.unit),
                                              {.mode = "decimal", .required = true}) +
                                       Form::submit("Take off", "button quiet")),
                  "stack");
  if (is_used_up(line)) body = div("ends", used_one(view, line, back)) + body;
  if (line.keeps_open) {
    const std::string days = say_number(line.keeps_open->count(), 0) + " days once opened";
    body += p(line.ask_opened ? "caution" : "hint",
              text(line.opened       ? "Open since " + say_day(*line.opened) + "; keeps " + days + "."
                   : line.ask_opened ? "Keeps " + days + ", and it is begun: since when is it open?"
                                     : "Keeps " + days + ". Not opened yet, as far as is written down.")) +
            div("ends", opened_today(view, line, back));
  }
  return element("section", {{"class", "card"}}, h2(text("Used some?")) + body);
}

}  // namespace

std::string item_page(const View& view, const Line& line) {
  record::Stock said;
  for (const auto& kept : supplies::inventory(view.litter, reference::built_in()))
    if (kept.what.item == line.item) said = kept.what;
  const std::string back = "supplies?item=" + percent_encode(line.item);
  const std::string of = line.unit.empty() ? "" : ", " + line.unit;
  Form form{view, "item", "stock", "", back};
  form.hidden("item", line.item);
  form.hidden("shown", held_by(said));
  form.hidden("car_shown", line.car ? "true" : "false");
  if (said.have) form.hidden("have_shown", say_number(said.have->count(), 3));
  std::vector<Option> places;
  for (const auto where : {Keeping::kit, Keeping::house, Keeping::to_make, Keeping::to_buy})
    places.push_back({std::string(record::name_of(where)), sentence(words_for(where))});
  Html fields =
      div("field-row", field_of(form, "have", ("Have now" + of).c_str(), said.have, "12, 400 g, or 2 packs") +
                           form.field("expires", "Goes out of date",
                                      {.value = said.expires ? to_iso(*said.expires) : "", .type = "date"})) +
      form.choice("where", "Where it is", places, said.where ? std::string(record::name_of(*said.where)) : "");
  if (asks_to_be_tried(line))
    fields += form.field("tested", "Tried, and it worked, on",
                         {.value = said.tested ? to_iso(*said.tested) : "", .type = "date"});
  fields += div("field-row",
                field_of(form, "pack", ("In one pack" + of).c_str(), said.pack) +
                    form.field("cost", "Price of a pack",
                               {.value = said.cost ? say_cash(supplies::cash_of(*said.cost)) : "", .mode = "decimal"}));
  fields += div("field-row", form.field("keeps_open_d", "Keeps once opened, days",
                                        {.value = said.keeps_open_d ? say_number(said.keeps_open_d->count(), 0) : "",
                                         .hint = "Only where its label says so",
                                         .mode = "numeric"}) +
                                 form.field("opened", "Opened on",
                                            {.value = said.opened ? to_iso(*said.opened) : "", .type = "date"})) +
            form.choice("car", "Goes into the car to the vet", {{"true", "yes"}, {"false", "no"}},
                        line.car ? "true" : "false");
  fields += fold_away(
      text("Your own amount"),
      p("hint", text("Instead of the rule, and for your next litters too.")) +
          div("field-row",
              field_of(form, "need", "For the litter", said.need) +
                  field_of(form, "need_per_pup", "and for each pup", said.need_per_pup) +
                  form.field("days_before", "Days before her time",
                             {.value = said.days_before ? std::to_string(*said.days_before) : "", .mode = "numeric"})),
      said.need || said.need_per_pup || said.days_before, "small");
  fields += Form::submit("Save", "button save");

  Html facts = p("", text(sentence(line.purpose)));
  if (const auto* need = reference::value_of(line.need)) {
    const auto* half = reference::value_of(line.need_half);
    std::string says = "Needed: " + supplies::say(*need, line.unit);
    if (half && half->count() < need->count())
      says += " (" + supplies::say(*half, line.unit) + " for half of such litters)";
    if (line.own_amount) says += ", your own amount";
    facts += p("", text(says + (line.by ? ". In the house by " + say_day(*line.by) : "") + "."));
  } else {
    facts += p("", not_assessed(std::get<reference::NotAssessed>(line.need)));
  }
  facts += p("", text("Now: " + say_have(line) + "; " + std::string(words_for(line.state)) + "."));
  if (line.to_try) facts += p("", text("To be tried before her time."));
  facts += what_differs(line);
  const bool refused = said.wanted && !*said.wanted;
  const Html wanted =
      one_tap(view, "wanted", "stock", "", back, {{"item", line.item}, {"wanted", refused ? "true" : "false"}},
              text(refused ? "I want it after all" : "I do without it"), "button quiet");
  const Html main =
      element("section", {{"class", "card"}}, facts) + use_card(view, line, back) +
      element("section", {{"class", "card"}}, form.finish(fields, "stack")) +
      div("ends", link(litter_href(view.litter, "supplies"), text("To all supplies"), "button quiet") + wanted);
  return page_of(view, {.title = sentence(line.item), .screen = "supplies", .back = back}, main);
}

}  // namespace lampside::page
