// The HTML pages: pure functions from what is known to text. HTML is a type; text becomes HTML only by escaping.
#pragma once

#include <functional>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "advice/assessment.hpp"
#include "homes/look_back.hpp"
#include "page/html.hpp"
#include "record/litter.hpp"
#include "record/person.hpp"

namespace lampside::page {

/// What every page of a litter is made from.
struct View {
  const record::Litter& litter;
  const advice::Assessment& assessment;
  Instant now;
  std::string token;                         ///< goes into every form
  std::string notice;                        ///< one line about what was just done, with undo; may be empty
  std::string undo_id;                       ///< the entry the notice speaks of; empty: nothing to undo
  std::map<std::string, std::string> typed;  ///< what a refused form held, so that nothing is lost
  std::optional<Problem> problem;            ///< why it was refused
  std::string new_id;                        ///< a fresh entry id for the first form of the page; more by fresh_id
  std::function<std::string()> fresh_id;     ///< a new UUID for each form, so that a double tap is a replay
  /// What the address asks for: `correct` (an entry's id: show its correction form) and `until` (log: a day,
  /// "2026-03-01", show it and the days before). Empty is fine.
  std::map<std::string, std::string> query{};
  std::string leftovers_from{};            ///< the earlier litter whose supplies may be taken over; empty: none
  std::string feed{};                      ///< the address a calendar may subscribe to; empty: none
  std::vector<homes::LookBack> earlier{};  ///< of the same dam, the latest first; filled for looking back
  std::vector<std::string> undo_with{};    ///< those written down by the same tap as undo_id, undone with it
  std::vector<record::Person> people{};    ///< who the families are, as far as it is kept
  std::vector<const record::Litter*> other_litters{};  ///< in the same book; filled for Homes
  /// Where free words of the journal name the family whose page this is.
  struct Naming {
    record::EntryId id;
    std::string litter;
    Instant at;
    std::string says;
    bool struck;
  };
  std::vector<Naming> naming{};
};

std::string now_page(const View& view);
std::string due_page(const View& view);
std::string whelping_page(const View& view);
/// `turn`: label of the pup to weigh now, empty for the first without a weight in this round.
std::string weigh_in_page(const View& view, const std::string& turn);
/// `product`: the name of a label; any other, or none: the label written down last.
std::string dosing_page(const View& view, const std::string& product);
std::string nest_page(const View& view);
std::string pup_page(const View& view, const record::Pup& pup);
/// `check` in the query: the kit check; `item`: that item's own page.
std::string supplies_page(const View& view);
/// In the query: `family` (that family's own page; "new": the form of one), `money`, `match`, `test` (of that pup).
std::string homes_page(const View& view);
/// The day that pup leaves: the checks, and the form that writes it down.
std::string handover_page(const View& view, const record::Pup& pup);
std::string look_back_page(const View& view);  ///< what this litter came to, and its dam's others
std::string paper_page(const View& view);
std::string care_page(const View& view);     ///< the plan of care
std::string records_page(const View& view);  ///< the fields laws and clubs ask for
std::string log_page(const View& view);      ///< the whole story, each entry with its strike and correct buttons
std::string settings_page(const View& view);
std::string call_page(const View& view);  ///< what to say to the vet

/// No litter yet: the form that makes the first one.
struct StartView {
  std::string token;
  std::string zone_guess;
  Instant now;
  std::vector<std::string> litters;  ///< those there are
  std::map<std::string, std::string> typed;
  std::optional<Problem> problem;
  std::string new_id;
};
std::string start_page(const StartView& view);
std::string problem_page(int status, const Problem& problem);

/// A file that belongs to the pages (CSS, modules, icon), embedded in the program.
struct Asset {
  std::string_view path, content_type, body;
};
const std::vector<Asset>& assets();

}  // namespace lampside::page
