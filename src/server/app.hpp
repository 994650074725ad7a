// What Lampside answers at each address. KEY is a litter's name, percent-encoded.
//
//   GET  /                                 the only litter's Now; otherwise the list and the form of a first litter
//   GET  /start   POST /start              a new litter, with its mating and X-ray count when given
//   GET  /l/KEY/{now,due,whelping,weigh-in?turn=,pup?label=,care,supplies,homes,records,paper,log,settings}
//   POST /l/KEY/record                     one entry (forms.hpp), then on to the screen named in `back`, with ?did=ID
//   POST /l/KEY/strike                     strikes an entry out: Undo
//   POST /l/KEY/answer                     a doubted weight is right, or is corrected as proposed
//   POST /l/KEY/tick                       a task of the plan done, for each animal that is ticked
//   POST /l/KEY/carry                      takes over what an earlier litter left of its supplies
//   POST /l/KEY/person                     who a family is; a new family also comes on the list
//   POST /l/KEY/erase                      who a family is, erased for good
//   GET  /l/KEY/{family.vcf,family.json}?family=   what is kept about a family
//   GET  /l/KEY/money.csv?names=           the money as a table; with the families' names where asked
//   GET  /l/KEY/order.txt                  the rule of choosing and the places, without names
//   POST /l/KEY/settings                   a litter entry with what changed
//   GET  /l/KEY/paper/FORM.pdf?size=&pup=  a4 or letter; of that pup; POST: with the people's names in the form, so
//   that
//                                          none stands in an address
//   GET  /l/KEY/paper/pup-sheet.{png,txt}?pup=
//   POST /l/KEY/picture                    a form with a picture in it: taken in clean, and its `photo` entry
//   GET  /l/KEY/picture/SHA256.jpg?size=   a picture of this litter; "small" for lists
//   GET  /l/KEY/calendar.ics               the plan as iCalendar
//   GET  /feed/SECRET/KEY.ics              the same for a calendar that subscribes; the secret opens nothing else
//   GET  /l/KEY/live                       server-sent events: "news" with the journal's size whenever it has grown
//   GET  /assets/NAME                      the pages' style sheet, modules and icon
//
// A form that is refused comes back as the same screen with status 422, what was typed still in it, and why.
#pragma once

#include <chrono>
#include <functional>
#include <map>
#include <string>

#include "advice/assessment.hpp"
#include "exchange/named.hpp"
#include "homes/look_back.hpp"
#include "page/page.hpp"
#include "paper/forms.hpp"
#include "server/book.hpp"
#include "server/forms.hpp"
#include "server/guard.hpp"
#include "server/http.hpp"
#include "store/attachments.hpp"

namespace lampside::server {

class App {
 public:
  struct Parts {
    store::Journal& journal;
    std::function<Instant()> clock;
    std::function<std::string()> fresh_id;
    ZoneLoader zones;
    std::string local_zone;
    const reference::Reference& reference;
    /// A printed form as PDF bytes; `letter`: US Letter instead of A4. Errors: the form is not known.
    std::function<Result<std::string>(std::string_view form, bool letter, const record::Litter&,
                                      const advice::Assessment&, const paper::Given&)>
        paper;
    std::function<Result<std::string>(const record::Litter&, const advice::Assessment&, const paper::Given&)> pup_png{};
    store::Attachments attachments{};
    /// The plan as iCalendar.
    std::function<std::string(const record::Litter&, const advice::Assessment&)> calendar;
    Future future = Future::all;
    LiveFindings live{};
    std::chrono::milliseconds sign_of_life{15'000};  ///< a quiet live stream sends a comment this often
  };
  App(Parts parts, Guard guard);

  /// Answers one request. Not for several threads at once (the seam promises that).
  Response handle(const Request& request);

 private:
  using Query = std::map<std::string, std::string>;
  /// A screen's name and what its address asks for.
  struct Place {
    std::string screen;
    Query query;
    std::string part{};  ///< where on the screen
  };

  Response route(const Request& request);
  Response route_litter(const Request& request, const std::string& key);
  Response asset(const Request& request, const std::string& name);
  Response start(const Request& request);
  Response record_entry(const Request& request, const std::string& key);
  Response strike(const Request& request, const std::string& key);
  Response answer(const Request& request, const std::string& key);
  Response tick(const Request& request, const std::string& key);
  Response calendar(const std::string& key);
  Response feed(const Request& request);
  Response settings(const Request& request, const std::string& key);
  Response carry(const Request& request, const std::string& key);
  /// Who the families are, and the litters to compare with: for the screens that show them.
  void add_people(page::View& view, const std::string& key);
  /// Whether the picks and passes among these entries keep the order.
  Result<void> may_choose(const std::string& key, const std::vector<record::Entry>& entries);
  bool knows_family(const std::string& key, const std::string& family);
  /// The words in any litter that name this person.
  std::vector<exchange::Named> naming(const record::Person& person);
  Response person(const Request& request, const std::string& key);
  Response erase(const Request& request, const std::string& key);
  /// Nothing when there is no such file.
  std::optional<Response> hand_out(const Request& request, const std::string& key, const std::string& file);
  /// The earlier litter whose supplies this one may take over; empty: none, or they are taken already.
  std::string leftovers_for(const std::string& key);
  Response paper(const Request& request, const std::string& key, const std::string& file);
  Response live(const Request& request);
  Response take_picture(const Request& request, const std::string& key);
  Response picture(const Request& request, const std::string& key, const std::string& file);
  /// What litters of the same dam came to, for a page that looks back; with `later` also those after this one.
  std::vector<homes::LookBack> earlier_litters(const std::string& key, bool later);

  Response start_page(const Request& request, const Problem* problem);
  /// A screen; with `refused`, as it was with what was typed and why it was refused.
  Response screen(const std::string& key, const Place& place, const Request* refused, const Problem* problem);
  /// Takes the entries in if they fit. Replays take nothing and are fine.
  Result<void> take(const std::string& key, const std::vector<record::Entry>& entries);
  Known known(const std::string& key, const Request& request);

  static Place place_of(const std::string& back);
  static std::string address_of(const std::string& key, const Place& place);

  Parts parts_;
  Guard guard_;
  Book book_;
  Instant now_{};     ///< one moment for the whole of a request
  std::string host_;  ///< as the request named this server
};

}  // namespace lampside::server
