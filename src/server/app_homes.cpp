// The addresses of Homes: who the families are, written, handed out and erased; money as a table.
#include <algorithm>
#include <nlohmann/json.hpp>

#include "exchange/family_json.hpp"
#include "exchange/money_csv.hpp"
#include "exchange/vcard.hpp"
#include "homes/order_text.hpp"
#include "page/words.hpp"
#include "server/answers.hpp"
#include "server/app.hpp"
#include "server/homes_forms.hpp"

namespace lampside::server {
namespace {

const Problem kNotOnTheList{"HOMES_FAMILY", "this family is not on the list of this litter", "add it as a new one"};

constexpr std::size_t kLargestCard = 2 << 20;  ///< some hold a portrait, which is not taken

Response download(std::string type, std::string name, std::string body) {
  Response r;
  r.content_type = std::move(type);
  r.body = std::move(body);
  r.headers.emplace_back("Content-Disposition", "attachment; filename=\"" + page::percent_encode(name) + "\"");
  r.headers.emplace_back("Cache-Control", "no-store");
  return r;
}

}  // namespace

void App::add_people(page::View& view, const std::string& key) {
  if (auto people = parts_.journal.people().list()) view.people = std::move(*people);
  for (const auto& other : book_.litters())
    if (other != key) view.other_litters.push_back(&book_.page(other).litter);
  const auto family = view.query.find("family");
  if (view.query.empty() || family == view.query.end()) return;
  for (const auto& person : view.people)
    if (person.family == family->second)
      for (auto& n : naming(person))
        view.naming.push_back({n.without.id, n.without.litter, n.without.at.instant, std::move(n.says), n.struck});
}

std::vector<exchange::Named> App::naming(const record::Person& person) {
  std::vector<exchange::Named> out;
  for (const auto& litter : book_.litters())
    for (auto& n : exchange::naming(book_.page(litter).litter, person, book_.page(litter).litter.zone.day_of(now_)))
      out.push_back(std::move(n));
  return out;
}

Result<void> App::may_choose(const std::string& key, const std::vector<record::Entry>& entries) {
  const auto& litter = book_.page(key).litter;
  for (const auto& e : entries)
    if (const auto* choice = record::body_as<record::Choice>(e); choice && !e.corrects)
      if (auto may = homes::may_choose(homes::order(litter, now_), litter, *choice, e.about); !may) return may;
  return {};
}

bool App::knows_family(const std::string& key, const std::string& family) {
  const auto& families = book_.page(key).litter.families;
  return std::any_of(families.begin(), families.end(), [&](const auto& f) { return f.what.family == family; });
}

Response App::person(const Request& request, const std::string& key) {
  const auto family = typed(request.form, "family");
  Place place{"homes", {{"family", family.empty() ? "new" : family}}};
  const auto refused = [&](const Problem& problem) { return screen(key, place, &request, &problem); };
  auto form = request.form;
  if (!request.files.empty() && typed(form, "vcard").empty()) {
    const auto& card = request.files.front().bytes;
    if (card.size() > kLargestCard)
      return refused({"VCARD_FILE", "this file is too large for a vCard: more than 2 MB",
                      "share the contact from the telephone as .vcf, one family at a time"});
    form.erase("vcard");
    form.emplace("vcard", card);
  }
  const auto from = family_from(form, known(key, request));
  if (!from) return refused(from.error());
  if (!from->entry && !knows_family(key, family)) return refused(kNotOnTheList);
  if (const auto kept = parts_.journal.people().put(from->person); !kept) return refused(kept.error());
  if (from->entry)
    if (const auto ok = take(key, {*from->entry}); !ok) return refused(ok.error());
  return see_other(address_of(key, {"homes", {{"family", from->person.family}}}));
}

Response App::erase(const Request& request, const std::string& key) {
  const auto family = typed(request.form, "family");
  Place place{"homes", {{"family", family}}};
  const auto refused = [&](const Problem& problem) { return screen(key, place, &request, &problem); };
  const auto entry = erased_from(request.form, known(key, request));
  if (!entry) return refused(entry.error());
  if (!knows_family(key, family)) return refused(kNotOnTheList);
  std::vector<record::Entry> without;
  const auto person = parts_.journal.people().get(family);
  if (!person) return refused(person.error());
  if (*person)
    for (auto& n : naming(**person)) {
      auto says = typed(request.form, "out-" + n.without.id);
      if (says.empty()) says = typed(request.form, "out-all");
      if (says != "yes" && says != "no")
        return refused({"FORM_NAMED", "an entry of the journal seems to name them, and it was not said what to do",
                        "look at the words below and choose for each: take the name out, or leave it"});
      if (says == "yes") without.push_back(std::move(n.without));
    }
  // The words first: once the person is gone, nobody knows any more what to look for.
  if (!without.empty()) {
    if (const auto out = parts_.journal.take_out(without); !out) return refused(out.error());
    book_.forget();
    if (const auto ok = book_.refresh(now_); !ok) return refused(ok.error());
  }
  // Then the person: if the journal then cannot be written, the promise that matters is kept.
  if (const auto gone = parts_.journal.people().erase(family); !gone) return refused(gone.error());
  if (const auto ok = take(key, {*entry}); !ok) return refused(ok.error());
  return see_other(address_of(key, place));
}

std::optional<Response> App::hand_out(const Request& request, const std::string& key, const std::string& file) {
  const auto& litter = book_.page(key).litter;
  const auto name_of = [this](const std::string& family) {
    const auto person = parts_.journal.people().get(family);
    return person && *person && !(**person).name.empty() ? (**person).name : family;
  };
  if (file == "money.csv")
    return download("text/csv; charset=utf-8; header=present", key + "-money.csv",
                    exchange::money_csv(homes::ledger(litter, now_), litter.zone,
                                        request.field("names").empty() ? exchange::NameOf{} : name_of));
  if (file == "order.txt") {
    Response r;
    r.content_type = "text/plain; charset=utf-8";
    r.body = homes::order_text(homes::order(litter, now_), litter, now_);
    return r;
  }
  if (file != "family.vcf" && file != "family.json") return std::nullopt;
  const auto family = request.field("family");
  const auto person = parts_.journal.people().get(family);
  if (!person || !(*person || knows_family(key, family))) return std::nullopt;
  if (file == "family.json")
    return download("application/json", family + ".json",
                    exchange::family_json(family, *person, litter).dump(2) + "\n");
  if (!*person) return std::nullopt;
  return download("text/vcard; charset=utf-8", family + ".vcf", exchange::to_vcard(**person));
}

}  // namespace lampside::server
