// Money: what it cost and brought, each pup's share, the entries, and the litters before.
#include "homes/money.hpp"

#include <algorithm>

#include "page/homes.hpp"
#include "page/pictures.hpp"

namespace lampside::page {
namespace {

using homes::Ledger;

Html row(const Html& name, const std::string& a, const std::string& b, bool head = false) {
  const char* cell = head ? "th" : "td";
  return element("tr", {},
                 element("th", {{"scope", head ? "col" : "row"}}, name) +
                     element(cell, {{"class", "figure"}}, text(a)) + element(cell, {{"class", "figure"}}, text(b)));
}

std::string said(const reference::Assessed<Cash>& share, const std::string& currency) {
  const auto* each = reference::value_of(share);
  return each ? say_cash(*each, currency) : std::get<reference::NotAssessed>(share).why;
}

Html totals_card(const View& view, const Ledger& book) {
  Html out;
  for (const auto& t : book.totals) {
    Html rows = row(text("For"), "in", "out", true);
    for (const auto& c : t.categories)
      rows += row(text(sentence(c.what_for)), c.in == Cash{0} ? "" : say_cash(c.in),
                  c.out == Cash{0} ? "" : say_cash(c.out));
    rows += row(text("Together"), say_cash(t.in), say_cash(t.out));
    out += element("section", {{"class", "card"}},
                   h2(text(t.currency.empty() ? "Money, no currency named" : "Money in " + t.currency)) +
                       p("big", text("The litter cost " + say_cash(t.cost, t.currency))) +
                       p("", text("Each of " + std::to_string(book.born_alive) +
                                  " born alive: " + said(homes::share(t.cost, book.born_alive), t.currency) + ".")) +
                       p("", text("Nothing is lost at " + said(homes::share(t.cost, book.for_sale), t.currency) +
                                  " for each of the " + std::to_string(book.for_sale) + " for other homes.")) +
                       p("", text("In less out: " + say_cash(t.balance(), t.currency) + ".")) +
                       element("table", {{"class", "money"}}, rows));
  }
  if (book.totals.size() > 1)
    out += p("caution", text("There are several currencies. They are never added: each has its own sum."));
  if (book.totals.empty()) out += element("section", {{"class", "card"}}, p("", text("No money is written down yet.")));
  return out +
         p("hint",
           text("Deposits count as money in, and are no cost when given back. Your own hours are in no figure.")) +
         div("ends", link(litter_href(view.litter, "money.csv"), text("As a table (CSV)"), "button quiet") +
                         link(litter_href(view.litter, "money.csv?names=1"), text("With the families' names"),
                              "button quiet")) +
         p("hint", text("The first table tells families by an id and can be given away; the names stay here."));
}

Html entry_form(const View& view) {
  Form form{view, "money", "money", "", "homes?money=1"};
  std::vector<std::string> words;
  for (const auto c : homes::categories()) words.emplace_back(c);
  for (const auto& m : view.litter.money)
    if (std::find(words.begin(), words.end(), m.what.what_for) == words.end()) words.push_back(m.what.what_for);
  std::vector<Option> families{{"", "Nobody's"}};
  for (const auto& f : view.assessment.homes.families)
    families.push_back({f.family, sentence(say_family(view, f.family))});
  return element(
      "section", {{"class", "card"}},
      h2(text("Write down money")) +
          form.finish(
              form.choice("direction", "Which way", {{"out", "Paid"}, {"in", "Came in"}}, "out", true) +
                  div("field-row", form.field("amount", "Amount", {.mode = "decimal", .required = true}) +
                                       form.field("currency", "Currency",
                                                  {.value = usual_currency(view.litter), .placeholder = "GBP"})) +
                  form.field("for", "For what", {.suggestions = words, .required = true}) +
                  form.field("paid_by", "Who paid", {.hint = "keeper, co-owner. No family's name: choose it below"}) +
                  (families.size() > 1 ? form.choice("family", "Family", families) : Html{}) +
                  form.note(std::string(kNoNames)) + form.when_folded() + Form::submit("Save", "button save"),
              "stack"));
}

/// The picture of its receipt, or the form for one. A deposit has none: it is agreed, not bought.
Html receipt(const View& view, const homes::MoneyLine& line) {
  if (!line.receipt.empty())
    return link(litter_href(view.litter, "picture/" + line.receipt + ".jpg"), text("Receipt"), "button quiet");
  if (line.what_for == homes::kDeposit || line.what_for == homes::kDepositBack) return {};
  const std::string name = "receipt-" + line.id;
  const bool refused = view.problem && view.typed.count("receipt_of") != 0 && view.typed.at("receipt_of") == line.id;
  Form form{name, litter_href(view.litter, "picture"), view.token, fresh_id(view), refused ? &view.typed : nullptr};
  form.with_files();
  form.hidden("receipt_of", line.id);
  form.hidden("back", "homes?money=1");
  return fold_away(
      text("Its receipt"),
      form.finish(picture_field(name + "-file", "A picture of the receipt") + Form::submit("Save"), "stack"), refused,
      "small");
}

Html lines(const View& view, const Ledger& book) {
  Html rows;
  for (auto line = book.lines.rbegin(); line != book.lines.rend(); ++line) {
    std::string says = line->what_for;
    if (!line->family.empty()) says += ", " + say_family(view, line->family);
    if (!line->paid_by.empty()) says += ", paid by " + line->paid_by;
    if (!line->note.empty()) says += ". " + line->note;
    const std::string amount =
        (line->way == record::MoneyWay::out ? "-" : "+") + say_cash(line->amount, line->currency);
    rows +=
        element("li", {},
                div("words", text(sentence(says)) + p("hint", at_time(view, line->at))) + span("figure", text(amount)) +
                    receipt(view, *line) + strike_button(view, line->id, "homes?money=1", "Take out", amount));
  }
  if (rows.empty()) return {};
  return element("section", {{"class", "card"}},
                 h2(text("Every entry")) + element("ul", {{"class", "money-lines"}}, rows));
}

Html earlier(const View& view) {
  Html rows;
  for (const auto* other : view.other_litters) {
    const auto book = homes::ledger(*other, view.now);
    for (const auto& t : book.totals)
      if (t.cost > Cash{0})
        rows += row(text(other->key + ", " + std::to_string(book.born_alive) + " pups"), say_cash(t.cost, t.currency),
                    said(homes::share(t.cost, book.born_alive), t.currency));
  }
  if (rows.empty()) return {};
  return element("section", {{"class", "card"}},
                 h2(text("Other litters in this book")) +
                     element("table", {{"class", "money"}}, row(text("Litter"), "cost", "each pup", true) + rows));
}

}  // namespace

std::string money_page(const View& view) {
  const auto book = homes::ledger(view.litter, view.now);
  const Html main = totals_card(view, book) + entry_form(view) + lines(view, book) + earlier(view) +
                    div("ends", link(litter_href(view.litter, "homes"), text("To all families"), "button quiet"));
  return page_of(view, {.title = "Money", .screen = "homes", .back = "homes?money=1"}, main);
}

}  // namespace lampside::page
