// The folder: everything a pup's new family keeps, in one document.
#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "care/law.hpp"
#include "care/records.hpp"
#include "homes/feeding_at_home.hpp"
#include "homes/handover.hpp"
#include "homes/pup_facts.hpp"
#include "paper/flow.hpp"
#include "paper/pictures.hpp"
#include "paper/weights.hpp"

namespace lampside::paper {
namespace {

using record::Pup;

constexpr std::size_t kPictures = 12;

std::string day_text(const Made& made, Instant t) { return say_date(made.litter.zone.day_of(t)); }

std::string say_matings(const Made& made) {
  std::string out;
  for (const auto& m : made.litter.matings) out += (out.empty() ? "" : ", ") + day_text(made, m.at);
  return out;
}

/// What the journal has for one field of the laws' records. Empty: a line to write on.
std::string value_of_field(const Made& made, const Pup& pup, std::string_view field) {
  const auto& litter = made.litter;
  const auto& birth = pup.birth.what;
  const auto& dam = litter.facts.dam;
  const auto& sire = litter.facts.sire;
  if (field == "pup.birth_time") return say_day_time(litter.zone, pup.birth.at) + ", " + day_text(made, pup.birth.at);
  if (field == "pup.sex") return std::string(say_sex(birth.sex));
  if (field == "pup.markings") return birth.markings.value_or("");
  if (field == "pup.weight") return birth.grams ? say(*birth.grams, litter.units().weight) : "";
  if (field == "pup.chip") return care::chip_of(litter, pup.label);
  if (field == "pup.left")
    return pup.departure
               ? fmt::format("{}, {} days old", day_text(made, pup.departure->at),
                             (litter.zone.day_of(pup.departure->at) - litter.zone.day_of(pup.birth.at)).count())
               : "";
  if (field == "litter.count") return std::to_string(litter.pups.size());
  if (field == "whelped") return day_text(made, *litter.first_birth());
  if (field == "placentas")
    return std::to_string(litter.placentas.size() +
                          static_cast<std::size_t>(
                              std::count_if(litter.pups.begin(), litter.pups.end(),
                                            [](const Pup& p) { return p.birth.what.placenta.value_or(false); }))) +
           " seen";
  if (field == "matings") return say_matings(made);
  if (field == "dam.name") return dam ? dam->name.value_or("") : "";
  if (field == "dam.born") return dam && dam->born ? say_date(*dam->born) : "";
  if (field == "dam.breed") return dam ? dam->breed.value_or("") : "";
  if (field == "dam.chip") return care::chip_of(litter, "dam");
  if (field == "parity") return dam && dam->parity ? std::to_string(*dam->parity) + " before this one" : "";
  if (field == "sire.name") return sire ? sire->name.value_or("") : "";
  if (field == "sire.breed") return sire ? sire->breed.value_or("") : "";
  return {};  // "pup.buyer": people stand on the last page, or are written by hand
}

/// Every field that a law or a club of the tables asks for: each once, under the words of the first that asks.
void record_of_birth(Flow& flow, const Made& made, const Pup& pup) {
  flow.heading("Record of birth");
  const auto& birth = pup.birth.what;
  flow.row("Collar", pup.collar());
  flow.row("Born as number", fmt::format("{} of {}", pup.order, made.litter.pups.size()));
  if (birth.presentation)
    flow.row("Came", *birth.presentation == record::Presentation::head_first ? "head first" : "tail first");
  std::set<std::string_view> told;
  std::vector<const reference::RecordField*> by_hand;
  for (const auto& regime : care::record_fields(made.litter, made.reference))
    for (const auto& state : regime.fields) {
      if (state.by_hand) {
        if (regime.here || state.field->place.empty()) by_hand.push_back(state.field);
      } else if (told.insert(state.field->field).second) {
        flow.row(state.field->asks, value_of_field(made, pup, state.field->field));
      }
    }
  for (const auto* field : by_hand) flow.row(fmt::format("{} ({})", field->asks, field->regime), "");
}

void health(Flow& flow, const Made& made, const Pup& pup) {
  const auto& plan = made.assessment.care;
  const auto chip = care::chip_of(made.litter, pup.label);
  flow.heading("Worming, vaccination, health");
  flow.row("Chip number", chip);
  flow.cells({"Day", "What was done", "Lot, note"}, {0.22, 0.53, 0.25}, true);
  const auto done = homes::health_done(made.litter, plan, pup);
  for (const auto& d : done)
    flow.cells({say_date(d.day), d.what, d.lot.empty() ? "not written down" : d.lot}, {0.22, 0.53, 0.25});
  if (done.empty()) flow.words("Nothing is written down yet.");
  flow.space(mm(3));
  flow.cells({"Next", "What is due"}, {0.38, 0.62}, true);
  const auto ahead = homes::health_ahead(plan, pup);
  if (ahead.empty()) flow.words("Nothing more stands in the breeder's plan. Ask your own vet.");
  for (const auto* item : ahead)
    flow.cells({fmt::format("{} (from {} to {})", say_date(item->best), say_day(item->opens), say_day(item->closes)),
                item->what},
               {0.38, 0.62});
  if (const auto past = homes::health_past(plan, pup); !past.empty()) {
    flow.space(mm(3));
    flow.cells({"Its days are past", "Not ticked as done: ask the breeder, and your own vet"}, {0.38, 0.62}, true);
    for (const auto* item : past) flow.cells({"until " + say_date(item->closes), item->what}, {0.38, 0.62});
  }
  flow.small(
      "These days follow the ways of doing things that the breeder chose. Your own vet's plan comes before them.");
}

void feeding(Flow& flow, const Made& made, const Pup& pup) {
  flow.heading("Feeding in the first weeks");
  const auto sheet = homes::feeding_sheet(made.litter, made.reference, pup);
  if (const auto* why = std::get_if<reference::NotAssessed>(&sheet)) {
    flow.words("No amounts can be worked out: " + why->why + ".");
    flow.row("Food and amount", "");
    return;
  }
  const auto& s = std::get<homes::FeedingSheet>(sheet);
  const auto unit = made.litter.units().weight;
  flow.cells({"When it weighs", "kcal a day, about", s.food.empty() ? "Of its food" : "Of " + s.food}, {0.3, 0.3, 0.4},
             true);
  for (const auto& r : s.rations)
    flow.cells({say(Grams{1000 * r.weighs.count()}, unit), say_number(r.a_day.count(), 0),
                r.food ? say_number(r.food->count(), 0) + " g a day" : ""},
               {0.3, 0.3, 0.4});
  flow.words(
      "Divide the day's amount into four meals, later three. Keep to the food it knows for the first days, and change "
      "it over a week. Weigh the pup once a week and feed by what you see: ribs felt, not seen.");
  flow.small(
      fmt::format("By the formula of the National Research Council 2006 for growing dogs (from memory), with a grown "
                  "weight of {} kg{}. Your vet's word comes first.",
                  say_number(s.adult.count(), 1), s.adult_from_dam ? ", the dam's" : ""));
}

void met(Flow& flow, const Made& made, const Pup& pup) {
  flow.heading("What it has met so far");
  const auto items = homes::met(made.assessment.care, pup);
  for (const auto* item : items) flow.cells({say_date(*item->done), item->what}, {0.25, 0.75});
  if (items.empty()) flow.words("Nothing is ticked in the plan of care.");
  flow.lines(2);
}

/// The plan's own tasks of the weeks to come, with their reasons, and what to do on the first days.
void advice(Flow& flow, const Made& made, const Pup& pup) {
  flow.heading("Care in the weeks to come");
  for (const auto& item : made.assessment.care.items) {
    const bool ahead = item.row && item.about == pup.label && !item.done && item.state != care::State::missed &&
                       item.state != care::State::dropped && item.closes >= made.litter.zone.day_of(made.assessment.at);
    const bool told = ahead && (item.task.starts_with("social_") || item.task.starts_with("fear_") ||
                                item.task.starts_with("nails") || item.task.starts_with("pup_alone"));
    if (told)
      flow.row(fmt::format("{} to {}", say_day(item.opens), say_day(item.closes)),
               item.what + ". " + std::string(item.row->why));
  }
  flow.row("The first days", "A quiet place of its own, its blanket from home, the same food at the same hours.");
  flow.row("Your vet", "Show it to your own vet within the first days, with this folder.");
  flow.row("If it is unwell", "Not eating, vomiting, loose and bloody, limp or cold: ring the vet the same hour.");
  flow.row("The chip", "Register it in your name: until then a finder is led to the breeder.");
}

std::string given(const Made& made, std::string_view who) {
  for (const auto& [name, says] : made.given.contacts)
    if (name == who) return says;
  return {};
}

void contacts(Flow& flow, const Made& made) {
  flow.heading("Whom to ring");
  for (const auto& [name, says] : made.given.contacts)
    if (name != "Price" && name != "Deposit") flow.row(name, says);
  flow.row("Your own vet", "");
  flow.row("Breeder, for the whole of its life", given(made, "Breeder's telephone"));
}

void contract(Flow& flow, const Made& made, const Pup& pup) {
  flow.heading("Contract");
  flow.small(
      "A template with the breeder's own clauses. It is not legal advice; the law of the place comes before what "
      "stands here.");
  const auto& litter = made.litter;
  std::string identity = fmt::format("Pup {}, {}", pup.label, litter.breed());
  if (pup.birth.what.sex) identity += ", " + std::string(say_sex(pup.birth.what.sex));
  if (pup.birth.what.markings) identity += ", " + *pup.birth.what.markings;
  identity += ", born " + day_text(made, pup.birth.at);
  flow.row("The pup", identity);
  flow.row("Chip number", care::chip_of(litter, pup.label));
  const auto& sire = litter.facts.sire;
  flow.row("Dam and sire", litter.dam_name() + (sire && sire->name ? " and " + *sire->name : ""));
  flow.row("Breeder", given(made, "Breeder"));
  flow.row("Family", given(made, "Family"));
  flow.space(mm(2));
  if (litter.contract)
    flow.words(litter.contract->what.clauses);
  else
    flow.lines(6);  // so that what is to be signed stays on one page
  flow.space(mm(6));
  flow.row("Place and day", "");
  flow.row("Breeder's signature", "");
  flow.row("Family's signature", "");

  flow.heading("Receipt");
  flow.row("Received for the pup named above", given(made, "Price"));
  flow.row("Deposit already paid", given(made, "Deposit"));
  flow.row("Day, and signature of who received it", "");

  flow.heading("On the day");
  const auto age = homes::legal_age(litter, made.reference);
  const auto* said = pup.handover ? &pup.handover->what : nullptr;
  const auto at = pup.handover ? pup.handover->at : made.assessment.at;
  for (const auto& check : homes::day_checks(litter, made.reference, made.assessment.care, pup, at, said))
    flow.cells({check.holds ? (*check.holds ? "yes" : "NO") : "[   ]", check.asks, check.says}, {0.1, 0.36, 0.54});
  if (age.source)
    flow.small(fmt::format("The age by law: {} ({}, {}).", age.says, age.source->work, age.source->locator));
}

void pictures(Flow& flow, const Made& made, const Pup& pup) {
  auto photos = photos_of(made.litter, pup);
  if (photos.empty() || !made.given.picture) return;
  // Of many, evenly over the weeks, the first and the last among them.
  std::vector<const record::Told<record::Photo>*> shown;
  const std::size_t n = std::min(kPictures, photos.size());
  for (std::size_t i = 0; i < n; ++i)
    shown.push_back(photos[n == 1 ? photos.size() - 1 : i * (photos.size() - 1) / (n - 1)]);
  flow.heading("Week by week");
  for (std::size_t i = 0; i < shown.size(); i += 3)
    flow.block(mm(58), [&made, &pup,
                        row = std::vector(shown.begin() + static_cast<std::ptrdiff_t>(i),
                                          shown.begin() + static_cast<std::ptrdiff_t>(std::min(i + 3, shown.size())))](
                           Canvas& canvas, Area at) {
      double x = at.x;
      const double width = at.width / 3;
      for (const auto* photo : row) {
        if (const auto picture = picture_of(made, photo->what))
          canvas.picture({x, at.y, width - mm(3), at.height - mm(8)}, *picture);
        const auto age = made.litter.zone.day_of(photo->at) - made.litter.zone.day_of(pup.birth.at);
        canvas.text({x + width / 2 - mm(1.5), at.bottom() - mm(3)},
                    fmt::format("day {}, {}", age.count(), day_text(made, photo->at)),
                    {8, draw::Weight::regular, draw::kMuted}, Align::centre);
        x += width;
      }
    });
}

void folder_of(Form& form, const Made& made, const Pup& pup) {
  Flow flow{made.ruler, body_of(form.paper)};
  std::string name = "Pup " + pup.label;
  if (!pup.collar().empty()) name += ", " + pup.collar() + " collar";
  flow.words(name, {18, draw::Weight::bold, draw::kInk});
  flow.space(mm(2));
  if (!photos_of(made.litter, pup).empty() && made.given.picture)
    flow.block(mm(72), [&made, &pup](Canvas& canvas, Area at) {
      if (const auto picture = last_picture(made, pup))
        canvas.picture({at.x, at.y, at.width, at.height - mm(3)}, *picture);
    });
  record_of_birth(flow, made, pup);
  health(flow, made, pup);
  feeding(flow, made, pup);
  met(flow, made, pup);
  advice(flow, made, pup);
  contacts(flow, made);
  pictures(flow, made, pup);
  // The two that are taken out by themselves, to show and to sign, begin on pages of their own; all else runs on.
  const auto first = flow.pages();
  form.pages.insert(form.pages.end(), first.begin(), first.end());
  form.pages.emplace_back([&made, &pup](Canvas& canvas, Area body) { growth_page(canvas, body, made, pup); });
  Flow to_sign{made.ruler, body_of(form.paper)};
  contract(to_sign, made, pup);
  const auto more = to_sign.pages();
  form.pages.insert(form.pages.end(), more.begin(), more.end());
}

}  // namespace

Form folder(const Made& made) {
  Form form;
  form.paper = paper_size(made.sheet, Turn::portrait);
  for (const auto* pup : chosen_pups(made)) folder_of(form, made, *pup);
  if (form.pages.empty()) form.pages.emplace_back(no_pup);
  return form;
}

}  // namespace lampside::paper
