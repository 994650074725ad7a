// The night of the whelping on paper: the limits at which to ring, and a row for every pup.
#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "draw/lettering.hpp"
#include "paper/sheet.hpp"

namespace lampside::paper {
namespace {

constexpr double kRow = mm(9.2), kHead = mm(7), kSummary = mm(10), kFields = mm(10);
constexpr double kLine = 9;  // letters of the limits

constexpr std::array<std::string_view, 8> kClocks{"STRONG_STRAINING", "WEAK_STRAINING",     "PUP_VISIBLE",
                                                  "WATERS_NO_PUP",    "GREEN_BEFORE_FIRST", "GREEN_BETWEEN",
                                                  "GAP_STRAINING",    "GAP_RESTING"};
constexpr std::array<std::string_view, 4> kLongClocks{"FIRST_STAGE_LONG", "LABOUR_LONG", "DROP_CLOCK",
                                                      "STOPPED_STRAINING"};
constexpr std::array<std::string_view, 7> kSigns{"SIGN_COLLAPSE", "SIGN_TWITCHING",    "SIGN_FOUL_DISCHARGE",
                                                 "SIGN_BLEEDING", "REPEATED_VOMITING", "COUNT_SHORT",
                                                 "TWO_FLAGS"};

/// Headlines of that level, in the order of the lists above, and the works they come from.
struct Limits {
  std::vector<std::string> ring, go, works;
};
Limits limits_of(const reference::Reference& reference) {
  Limits out;
  const auto add = [&](const auto& rule) {
    if (rule.level == reference::Level::call_vet)
      out.ring.emplace_back(rule.words.headline);
    else if (rule.level == reference::Level::emergency)
      out.go.emplace_back(rule.words.headline);
    else
      return;
    std::string work{rule.source.work};
    if (rule.source.standing == reference::Standing::from_memory) work += " (from memory)";
    if (std::find(out.works.begin(), out.works.end(), work) == out.works.end()) out.works.push_back(std::move(work));
  };
  const auto add_code = [&](std::string_view code) {
    for (const auto* rule : reference::rules_of(reference.span_rules, code)) add(*rule);
    for (const auto* rule : reference::rules_of(reference.count_rules, code)) add(*rule);
  };
  for (const auto code : kClocks) add_code(code);
  for (const auto code : kLongClocks) add_code(code);
  for (const auto code : kSigns) add_code(code);
  return out;
}

/// What must not be done, once, from the first rule that says it.
std::string_view do_not_of(const reference::Reference& reference) {
  for (const auto code : kClocks)
    for (const auto* rule : reference::rules_of(reference.span_rules, code))
      if (!rule->words.do_not.empty()) return rule->words.do_not;
  return {};
}

/// The box with the limits; returns its height, draws nothing without a canvas.
double limits_box(Canvas* canvas, Area at, const Made& made) {
  const Limits limits = limits_of(made.reference);
  const double pad = mm(2.5), half = (at.width - 3 * pad) / 2;
  const Font title{10, draw::Weight::bold, draw::kAlarm};
  double heights[2];
  const std::pair<std::string_view, const std::vector<std::string>*> columns[] = {{"Ring your vet", &limits.ring},
                                                                                  {"Ring and go now", &limits.go}};
  for (std::size_t c = 0; c < 2; ++c) {
    const double x = at.x + pad + static_cast<double>(c) * (half + pad);
    double y = at.y + pad + 10;
    if (canvas) canvas->text({x, y}, columns[c].first, title, Align::left);
    y += 3;
    for (const auto& headline : *columns[c].second) {
      if (canvas) canvas->circle({x + 1.6, y + kLine * 0.72}, 1.1, draw::kInk, std::nullopt);
      y +=
          paragraph(canvas, made.ruler, {x + 6, y}, half - 6, {{headline, {kLine, draw::Weight::regular, draw::kInk}}});
    }
    heights[c] = y - at.y;
  }
  double y = at.y + std::max(heights[0], heights[1]) + mm(1);
  std::string works;
  for (const auto& work : limits.works) works += (works.empty() ? "Sources: " : "; ") + work;
  const double wide = at.width - 2 * pad;
  if (const auto no = do_not_of(made.reference); !no.empty())
    y += paragraph(canvas, made.ruler, {at.x + pad, y}, wide,
                   {{std::string(no), {kLine, draw::Weight::bold, draw::kInk}}});
  if (!works.empty())
    y +=
        paragraph(canvas, made.ruler, {at.x + pad, y}, wide, {{works + ".", {6, draw::Weight::regular, draw::kMuted}}});
  y += pad;
  if (canvas) canvas->rect({at.x, at.y}, {at.width, y - at.y}, std::nullopt, Pen{draw::kAlarm, 0.9, {}}, 3);
  return y - at.y;
}

std::string first_sign(const record::Litter& litter, std::initializer_list<record::Sign> wanted) {
  for (const auto& sign : litter.signs)
    if (std::find(wanted.begin(), wanted.end(), sign.what.sign) != wanted.end())
      return say_day_time(litter.zone, sign.at);
  return {};
}

void draw_fields(Canvas& canvas, Area area, const record::Litter& litter) {
  using record::Sign;
  const Point at{area.x, area.y + mm(6)};
  const double line = (area.width - mm(78)) / 3;
  double x = draw_field(canvas, at, "Waters broke", line, first_sign(litter, {Sign::waters}));
  x = draw_field(canvas, {x, at.y}, "First straining", line,
                 first_sign(litter, {Sign::weak_straining, Sign::strong_straining}));
  draw_field(canvas, {x, at.y}, "Settled", line, first_sign(litter, {Sign::settled}));
}

struct Column {
  std::string_view head;
  double millimetres;
};
constexpr std::array kColumns{Column{"No.", 9},  Column{"Time", 19},   Column{"Pup", 25},      Column{"Collar", 27},
                              Column{"Sex", 14}, Column{"Weight", 22}, Column{"Placenta", 18}, Column{"Notes", 0}};

Area cell_at(Area row, std::size_t column) {
  double x = row.x;
  for (std::size_t c = 0; c < column; ++c) x += mm(kColumns[c].millimetres);
  const bool last = column + 1 == kColumns.size();
  return {x, row.y, last ? row.right() - x : mm(kColumns[column].millimetres), row.height};
}

std::string notes_of(const record::Pup& pup) {
  std::string out;
  const auto add = [&](std::string_view what) {
    if (!what.empty()) out += (out.empty() ? "" : ", ") + std::string(what);
  };
  if (!pup.born_alive()) add("stillborn");
  if (pup.birth.what.presentation == record::Presentation::tail_first) add("tail first");
  if (!pup.scores.empty()) add(fmt::format("score {}", pup.scores.front().what.total()));
  add(pup.birth.what.markings.value_or(""));
  add(pup.birth.note);
  return out;
}

void draw_birth(Canvas& canvas, Area row, const Made& made, const record::Pup& pup, bool with_day) {
  const auto& litter = made.litter;
  const Font ink{10, draw::Weight::regular, draw::kInk}, small{7.5, draw::Weight::regular, draw::kMuted};
  Area time = cell_at(row, 1);
  if (with_day) {
    draw_cell(canvas, {time.x, time.y + mm(0.3), time.width, mm(3.4)}, say_day(litter.zone.day_of(pup.birth.at)),
              small);
    time = {time.x, time.y + mm(2.8), time.width, time.height - mm(2.8)};
  }
  draw_cell(canvas, time, say_time(litter.zone, pup.birth.at), ink);
  draw_name(canvas, cell_at(row, 2), pup.label, 11);
  const Area collar = cell_at(row, 3);
  if (!pup.collar().empty()) {
    draw_spot(canvas, {collar.x + mm(3), row.y + row.height / 2}, mm(1.6), pup.collar());
    draw_cell(canvas, {collar.x + mm(5), collar.y, collar.width - mm(5), collar.height}, pup.collar(), ink,
              Align::left);
  }
  draw_cell(canvas, cell_at(row, 4), say_sex(pup.birth.what.sex), ink);
  if (pup.birth.what.grams)
    draw_figure(canvas, cell_at(row, 5), bare(*pup.birth.what.grams, litter.units().weight), ink);
  if (pup.birth.what.placenta) draw_cell(canvas, cell_at(row, 6), *pup.birth.what.placenta ? "yes" : "not seen", ink);
  const Area notes = cell_at(row, 7);
  const Font note{8, draw::Weight::regular, draw::kInk};
  auto lines = draw::wrap(canvas, notes_of(pup), note, notes.width - mm(1.6));
  if (lines.size() > 2) lines = {lines[0], draw::fit(canvas, lines[1] + " " + lines[2], note, notes.width - mm(1.6))};
  for (std::size_t i = 0; i < lines.size(); ++i) {
    const double each = row.height / static_cast<double>(lines.size());
    draw_cell(canvas, {notes.x, notes.y + static_cast<double>(i) * each, notes.width, each}, lines[i], note,
              Align::left);
  }
}

void draw_rows(Canvas& canvas, Area area, const Made& made, std::size_t first, std::size_t count) {
  const auto& litter = made.litter;
  const Font caption{8.5, draw::Weight::regular, draw::kMuted};
  const Area head{area.x, area.y, area.width, kHead};
  for (std::size_t c = 0; c < kColumns.size(); ++c)
    draw_cell(canvas, cell_at(head, c),
              c == 5 ? fmt::format("Weight, {}", unit_word(litter.units().weight)) : std::string(kColumns[c].head),
              caption, c == 3 || c == 7 ? Align::left : Align::centre);
  for (std::size_t i = 0; i < count; ++i) {
    const Area row{area.x, area.y + kHead + static_cast<double>(i) * kRow, area.width, kRow};
    canvas.line({row.x, row.y}, {row.right(), row.y}, i == 0 ? kRule : kHairline);
    const std::size_t n = first + i;
    draw_cell(canvas, cell_at(row, 0), std::to_string(n + 1), {9, draw::Weight::regular, draw::kMuted});
    if (n < litter.pups.size()) {
      const auto day = litter.zone.day_of(litter.pups[n].birth.at);
      draw_birth(canvas, row, made, litter.pups[n], i == 0 || day != litter.zone.day_of(litter.pups[n - 1].birth.at));
    } else {
      const Area box = cell_at(row, 6);  // a square to tick
      canvas.rect({box.x + box.width / 2 - mm(2), row.y + kRow / 2 - mm(2)}, {mm(4), mm(4)}, std::nullopt, kHairline,
                  1);
    }
  }
  const double bottom = area.y + kHead + static_cast<double>(count) * kRow;
  canvas.line({area.x, bottom}, {area.right(), bottom}, kRule);
  for (std::size_t c = 1; c < kColumns.size(); ++c) {
    const double x = cell_at(head, c).x;
    canvas.line({x, area.y}, {x, bottom}, kHairline);
  }
}

void draw_summary(Canvas& canvas, Area area, const Made& made) {
  const auto& watch = made.assessment.whelping;
  const bool begun = watch.born > 0;
  const auto alive =
      std::count_if(made.litter.pups.begin(), made.litter.pups.end(), [](const auto& p) { return p.born_alive(); });
  const Point at{area.x, area.y + mm(7)};
  const std::string counted =
      watch.expected ? fmt::format("{}{}", *watch.expected, watch.expected_at_least ? " at least" : "") : "";
  double x = draw_field(canvas, at, "Counted before", mm(24), counted);
  x = draw_field(canvas, {x, at.y}, "Born", mm(13), begun ? std::to_string(watch.born) : "");
  x = draw_field(canvas, {x, at.y}, "Born alive", mm(13), begun ? std::to_string(alive) : "");
  draw_field(canvas, {x, at.y}, "Placentas seen", mm(13), begun ? std::to_string(watch.placentas_seen) : "");
}

}  // namespace

Form whelping_log(const Made& made) {
  Form form;
  form.paper = paper_size(made.sheet, Turn::portrait);
  const Area body = body_of(form.paper);
  const double above = limits_box(nullptr, body, made) + kFields;
  const auto on_first = static_cast<std::size_t>((body.height - above - kHead - kSummary) / kRow);
  const auto on_next = static_cast<std::size_t>((body.height - kHead - kSummary) / kRow);

  // Room for those expected and some more: a count is a minimum.
  const auto born = made.litter.pups.size();
  const auto expected = static_cast<std::size_t>(std::clamp(made.assessment.whelping.expected.value_or(0), 0, 30));
  const bool done = made.assessment.whelping.stage == whelping::Stage::done;
  const std::size_t wanted = std::max(on_first, done ? born : std::max(born + 3, expected + 3));

  form.pages.push_back([&made, above, on_first, wanted](Canvas& canvas, Area area) {
    limits_box(&canvas, area, made);
    draw_fields(canvas, {area.x, area.y + above - kFields, area.width, kFields}, made.litter);
    draw_rows(canvas, {area.x, area.y + above, area.width, area.height}, made, 0, std::min(on_first, wanted));
    draw_summary(canvas, {area.x, area.bottom() - kSummary, area.width, kSummary}, made);
  });
  for (std::size_t first = on_first; first < wanted; first += on_next)
    form.pages.push_back([&made, first, on_next](Canvas& canvas, Area area) {
      draw_rows(canvas, area, made, first, on_next);
      draw_summary(canvas, {area.x, area.bottom() - kSummary, area.width, kSummary}, made);
    });
  return form;
}

}  // namespace lampside::paper
