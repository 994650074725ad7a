// "Record of the litter": what laws and clubs ask a breeder to keep, filled in as far as the journal has it.
#include <fmt/format.h>

#include <algorithm>

#include "care/records.hpp"
#include "draw/lettering.hpp"
#include "paper/sheet.hpp"

namespace lampside::paper {
namespace {

constexpr double kRow = mm(8.5);
constexpr std::size_t kPupsOnAPage = 12;

struct Column {
  std::string_view head;
  double width;  ///< of 100
  std::string (*cell)(const record::Litter&, const record::Pup&);
};

std::string day_and_time(const record::Litter& litter, const record::Pup& pup) {
  return to_iso(litter.zone.day_of(pup.birth.at)) + " " + say_time(litter.zone, pup.birth.at);
}
std::string fate(const record::Litter& litter, const record::Pup& pup) {
  if (!pup.born_alive()) return "born dead";
  if (pup.death) return "died " + to_iso(litter.zone.day_of(pup.death->at));
  if (!pup.departure) return {};
  const auto age = litter.zone.day_of(pup.departure->at) - litter.zone.day_of(pup.birth.at);
  return fmt::format("{}, {} d", to_iso(litter.zone.day_of(pup.departure->at)), age.count());
}

const std::vector<Column>& columns() {
  static const std::vector<Column> kColumns{
      {"Pup", 6, [](const record::Litter&, const record::Pup& p) { return p.label; }},
      {"Born", 14, day_and_time},
      {"Sex", 6, [](const record::Litter&, const record::Pup& p) { return std::string(say_sex(p.birth.what.sex)); }},
      {"Colour, marks", 15,
       [](const record::Litter&, const record::Pup& p) { return p.birth.what.markings.value_or(""); }},
      {"Weight", 8,
       [](const record::Litter& l, const record::Pup& p) {
         return p.birth.what.grams ? say(*p.birth.what.grams, l.units().weight) : std::string{};
       }},
      {"Chip", 16, [](const record::Litter& l, const record::Pup& p) { return care::chip_of(l, p.label); }},
      {"Left, age", 14, fate},
      {"To whom, address, papers", 21,
       [](const record::Litter&, const record::Pup& p) {
         return p.departure ? p.departure->what.to.value_or("") : std::string{};
       }},
  };
  return kColumns;
}

void table(Canvas& canvas, Area body, double y, const Made& made, std::size_t first, std::size_t end) {
  const Font head{8.5, draw::Weight::bold, draw::kMuted}, plain{9, draw::Weight::regular, draw::kInk};
  double x = body.x;
  for (const auto& column : columns()) {
    const double width = body.width * column.width / 100;
    draw_cell(canvas, {x, y, width, mm(5)}, column.head, head, Align::left);
    x += width;
  }
  y += mm(5.5);
  const std::size_t rows = std::max(end - first, made.litter.pups.empty() ? kPupsOnAPage : std::size_t{0});
  for (std::size_t i = 0; i < rows; ++i, y += kRow) {
    canvas.line({body.x, y}, {body.right(), y}, kHairline);
    if (first + i >= end) continue;
    x = body.x;
    for (const auto& column : columns()) {
      const double width = body.width * column.width / 100;
      draw_cell(canvas, {x, y, width - mm(1), kRow}, column.cell(made.litter, made.litter.pups[first + i]), plain,
                Align::left);
      x += width;
    }
  }
  canvas.line({body.x, y}, {body.right(), y}, kRule);
}

std::string dam_says(const record::Litter& litter) {
  const auto dam = litter.facts.dam.value_or(record::Parent{});
  std::string out = dam.name.value_or("");
  if (dam.breed) out += ", " + *dam.breed;
  if (dam.born) out += ", born " + to_iso(*dam.born);
  if (dam.parity) out += fmt::format(", litters before: {}", *dam.parity);
  if (const auto chip = care::chip_of(litter, "dam"); !chip.empty()) out += ", chip " + chip;
  return out;
}
std::string sire_says(const record::Litter& litter) {
  const auto sire = litter.facts.sire.value_or(record::Parent{});
  return sire.name.value_or("") + (sire.breed ? ", " + *sire.breed : "");
}
std::string matings_say(const record::Litter& litter) {
  std::string out;
  for (const auto& mating : litter.matings) out += (out.empty() ? "" : ", ") + to_iso(litter.zone.day_of(mating.at));
  return out;
}

void head(Canvas& canvas, Area body, double& y, const Made& made) {
  const auto& litter = made.litter;
  const auto alive =
      std::count_if(litter.pups.begin(), litter.pups.end(), [](const auto& p) { return p.born_alive(); });
  const auto line = [&](std::string_view caption, const std::string& known) {
    draw_field(canvas, {body.x, y + mm(5)}, caption, body.width - mm(52), known);
    y += mm(8);
  };
  line("Dam", dam_says(litter));
  line("Her address, number, description", "");
  line("Sire, his number and owner", sire_says(litter));
  line("Matings: days, place, handlers", matings_say(litter));
  line("Whelped; pups; placentas",
       litter.pups.empty() ? std::string{}
                           : fmt::format("{}; {} pups, {} alive; {} placentas seen",
                                         to_iso(litter.zone.day_of(litter.pups.front().birth.at)), litter.pups.size(),
                                         alive, made.assessment.whelping.placentas_seen));
  line("Caesarean? Treatment, other events", "");
  y += mm(2);
}

/// What is still missing for each record of the keeper's place, else for every one.
void missing(Canvas& canvas, Area body, const Made& made) {
  double y = body.y;
  const Font small{10, draw::Weight::regular, draw::kInk}, bold{10.5, draw::Weight::bold, draw::kInk};
  const auto regimes = care::record_fields(made.litter, made.reference);
  const bool any_here = std::any_of(regimes.begin(), regimes.end(), [](const auto& r) { return r.here; });
  for (const auto& regime : regimes) {
    if (any_here && !regime.here) continue;
    std::string lacks, hand;
    for (const auto& f : regime.fields) {
      auto& into = f.by_hand ? hand : lacks;
      if (!f.complete() && (f.by_hand || f.of > 0)) into += (into.empty() ? "" : "; ") + std::string(f.field->asks);
    }
    const auto& source = regime.fields.front().field->source;
    const std::string says = "Missing: " + (lacks.empty() ? std::string("nothing the journal keeps") : lacks) +
                             ". By hand: " + (hand.empty() ? "nothing" : hand) + ". (" + std::string(source.work) +
                             "; " + std::string(reference::name_of(source.standing)) + ")";
    const std::vector<Run> runs{{std::string(regime.name) + ".", bold}, {says, small}};
    y += paragraph(&canvas, made.ruler, {body.x, y}, body.width, runs) + mm(4);
  }
}

}  // namespace

Form litter_record(const Made& made) {
  Form form;
  form.paper = paper_size(made.sheet, Turn::landscape);
  const std::size_t pups = made.litter.pups.size();
  const std::size_t pages = std::max<std::size_t>(1, (pups + kPupsOnAPage - 1) / kPupsOnAPage);
  for (std::size_t page = 0; page < pages; ++page)
    form.pages.emplace_back([&made, page, pups](Canvas& canvas, Area body) {
      double y = body.y;
      if (page == 0) head(canvas, body, y, made);
      table(canvas, body, y, made, page * kPupsOnAPage, std::min(pups, (page + 1) * kPupsOnAPage));
    });
  form.pages.emplace_back([&made](Canvas& canvas, Area body) { missing(canvas, body, made); });
  return form;
}

}  // namespace lampside::paper
