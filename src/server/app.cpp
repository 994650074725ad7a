#include "server/app.hpp"

#include <algorithm>
#include <array>
#include <cstdint>

#include "homes/pup_facts.hpp"
#include "page/words.hpp"
#include "server/answers.hpp"
#include "server/urlencoded.hpp"
#include "supplies/stock.hpp"

namespace lampside::server {
namespace {

constexpr std::array<std::string_view, 17> kScreens{"now",      "due",  "whelping", "weigh-in", "pup",      "care",
                                                    "paper",    "log",  "settings", "call",     "records",  "dosing",
                                                    "supplies", "nest", "homes",    "handover", "look-back"};
/// How long after it was written an entry is offered for undoing at the top of the page.
constexpr Minutes kUndoFor{15};

bool is_screen(std::string_view name) { return std::find(kScreens.begin(), kScreens.end(), name) != kScreens.end(); }
bool reads(const Request& r) { return r.method == "GET" || r.method == "HEAD"; }

Response html(int status, std::string body) {
  Response r;
  r.status = status;
  r.body = std::move(body);
  return r;
}
Response trouble(int status, const Problem& problem) { return html(status, page::problem_page(status, problem)); }

Response not_found() {
  return trouble(404, {"NOT_FOUND", "there is nothing at this address", "go to the start and choose from there"});
}
Response not_allowed(const std::string& methods) {
  auto r = trouble(405, {"NOT_ALLOWED", "this address is not for that", "go to the start and choose from there"});
  r.headers.emplace_back("Allow", methods);
  return r;
}

/// A problem of the disk is ours to mend, not the keeper's typing.
int status_of(const Problem& problem) { return problem.code.starts_with("STORE_") ? 503 : 422; }

std::string who(const Request& request) {
  const auto agent = request.header("user-agent");
  if (agent.empty()) return "web";
  for (const auto* word : {"Mobile", "Android", "iPhone", "iPad"})
    if (agent.find(word) != std::string::npos) return "phone";
  return "computer";
}

std::map<std::string, std::string> first_of_each(const std::multimap<std::string, std::string>& fields) {
  return {fields.begin(), fields.end()};
}

/// FNV-1a, as the pages mark the addresses of their assets.
std::string content_mark(std::string_view body) {
  std::uint32_t hash = 2166136261U;
  for (const char c : body) hash = (hash ^ static_cast<unsigned char>(c)) * 16777619U;
  std::string mark;
  for (int shift = 28; shift >= 0; shift -= 4) mark += "0123456789abcdef"[(hash >> shift) & 15U];
  return mark;
}

}  // namespace

App::App(Parts parts, Guard guard)
    : parts_{std::move(parts)}, guard_{std::move(guard)}, book_{parts_.journal, parts_.zones, parts_.future} {}

Response App::handle(const Request& request) {
  now_ = parts_.clock();
  host_ = request.header("host");
  if (auto in = guard_.take_key(request)) return std::move(*in);
  if (const auto refusal = guard_.refuse(request)) return trouble(refusal->status, refusal->problem);
  if (request.segments.size() == 2 && request.segments[0] == "assets") return asset(request, request.segments[1]);
  if (const auto ok = book_.refresh(now_); !ok) return trouble(503, ok.error());
  return route(request);
}

Response App::route(const Request& request) {
  const auto& at = request.segments;
  if (at.empty()) {
    if (!reads(request)) return not_allowed("GET, HEAD");
    if (book_.litters().size() == 1) return see_other(address_of(book_.litters().front(), {"now", {}}));
    return start_page(request, nullptr);
  }
  if (at.size() == 1 && at[0] == "start") return reads(request) ? start_page(request, nullptr) : start(request);
  if (at[0] == "feed" && guard_.is_feed(request)) return reads(request) ? feed(request) : not_allowed("GET, HEAD");
  if (at[0] != "l" || at.size() < 2 || at.size() > 4 || !book_.has(at[1])) return not_found();
  return route_litter(request, at[1]);
}

Response App::route_litter(const Request& request, const std::string& key) {
  const auto& at = request.segments;
  if (at.size() == 4) {
    if (at[2] == "picture") return reads(request) ? picture(request, key, at[3]) : not_allowed("GET, HEAD");
    if (at[2] != "paper") return not_found();
    // Only the folder takes names, which must not stand in an address.
    if (!reads(request) && at[3] != "folder.pdf") return not_allowed("GET, HEAD");
    return paper(request, key, at[3]);
  }
  const std::string name = at.size() == 3 ? at[2] : "";
  if (name.empty()) return reads(request) ? see_other(address_of(key, {"now", {}})) : not_allowed("GET, HEAD");
  if (name == "calendar.ics") return reads(request) ? calendar(key) : not_allowed("GET, HEAD");
  if (name == "picture") return reads(request) ? not_allowed("POST") : take_picture(request, key);
  constexpr std::array<std::string_view, 7> kPosts{"record", "strike", "answer", "tick", "carry", "person", "erase"};
  if (std::find(kPosts.begin(), kPosts.end(), name) != kPosts.end()) {
    if (reads(request)) return not_allowed("POST");
    if (name == "person") return person(request, key);
    if (name == "erase") return erase(request, key);
    if (name == "tick") return tick(request, key);
    if (name == "carry") return carry(request, key);
    if (name == "answer") return answer(request, key);
    return name == "record" ? record_entry(request, key) : strike(request, key);
  }
  if (name == "settings" && request.method == "POST") return settings(request, key);
  if (name.find('.') != std::string::npos && reads(request))
    if (auto file = hand_out(request, key, name)) return std::move(*file);
  if (name != "live" && !is_screen(name)) return not_found();
  if (!reads(request)) return not_allowed(name == "settings" ? "GET, HEAD, POST" : "GET, HEAD");
  if (name == "live") return live(request);
  return screen(key, {name, first_of_each(request.query)}, nullptr, nullptr);
}

Response App::asset(const Request& request, const std::string& name) {
  if (!reads(request)) return not_allowed("GET, HEAD");
  for (const auto& a : page::assets()) {
    if (a.path != name) continue;
    const auto mark = content_mark(a.body);
    Response r;
    r.content_type = std::string(a.content_type);
    r.headers = {{"ETag", "\"" + mark + "\""},
                 // An address that names the content may be kept for ever; any other is asked for again.
                 {"Cache-Control", request.field("v") == mark ? "public, max-age=31536000, immutable" : "no-cache"}};
    if (request.header("if-none-match") == "\"" + mark + "\"") {
      r.status = 304;
    } else {
      r.body = std::string(a.body);
    }
    return r;
  }
  return not_found();
}

// ---- the start ------------------------------------------------------------------------------------------------------

Response App::start_page(const Request& request, const Problem* problem) {
  page::StartView view{};
  view.token = guard_.token();
  view.zone_guess = parts_.local_zone;
  view.now = now_;
  view.litters = book_.litters();
  if (problem) {
    view.typed = first_of_each(request.form);
    view.problem = *problem;
  }
  view.new_id = parts_.fresh_id();
  return html(problem ? status_of(*problem) : 200, page::start_page(view));
}

Response App::start(const Request& request) {
  if (const auto* already = book_.find(typed(request.form, "id"));
      already && record::body_as<record::LitterFacts>(*already))
    return see_other(address_of(already->litter, {"due", {}}));
  const auto entries =
      start_from(request.form, {book_.litters(), parts_.local_zone, parts_.zones, parts_.fresh_id, now_, who(request)});
  if (!entries) return start_page(request, &entries.error());
  if (const auto ok = book_.append(*entries); !ok) return start_page(request, &ok.error());
  return see_other(address_of(entries->front().litter, {"due", {}}));
}

// ---- a litter's screens ---------------------------------------------------------------------------------------------

App::Place App::place_of(const std::string& back) {
  const auto end = std::min(back.find('#'), back.size());
  const auto question = std::min(back.find('?'), end);
  Place place{back.substr(0, question), {}, end < back.size() ? back.substr(end + 1) : ""};
  if (!is_screen(place.screen)) return {"now", {}};
  if (end > question)
    if (const auto query = parse_form(std::string_view{back}.substr(question + 1, end - question - 1)))
      place.query = first_of_each(*query);
  return place;
}

std::string App::address_of(const std::string& key, const Place& place) {
  std::string out = "/l/" + percent_encode(key) + "/" + place.screen;
  char mark = '?';
  for (const auto& [name, value] : place.query) {
    out += mark + percent_encode(name) + "=" + percent_encode(value);
    mark = '&';
  }
  if (!place.part.empty()) out += "#" + percent_encode(place.part);
  return out;
}

Response App::screen(const std::string& key, const Place& place, const Request* refused, const Problem* problem) {
  const auto& shown = book_.page(key);
  auto assessment = book_.assess(key, parts_.reference);
  if (parts_.live) advice::add_live(assessment, parts_.live(shown.litter, now_));
  const auto asked = [&](const char* name) {
    const auto found = place.query.find(name);
    return found == place.query.end() ? std::string{} : found->second;
  };

  // A departure written down for Saturday does not take the pup out of today's round.
  const auto as_known = advice::known_by(shown.litter, now_);
  page::View view{.litter = as_known ? *as_known : shown.litter,
                  .assessment = assessment,
                  .now = now_,
                  .token = guard_.token(),
                  .notice = {},
                  .undo_id = {},
                  .typed = {},
                  .problem = {},
                  .new_id = parts_.fresh_id(),
                  .fresh_id = parts_.fresh_id};
  view.query = place.query;
  if (!guard_.feed().empty())
    view.feed = "http://" + host_ + "/feed/" + guard_.feed() + "/" + page::percent_encode(key) + ".ics";
  if (place.screen == "homes" || place.screen == "pup" || place.screen == "handover") add_people(view, key);
  if (problem) view.problem = *problem;
  if (refused) view.typed = first_of_each(refused->form);
  if (const auto* did = book_.find(asked("did"));
      did && did->litter == key && now_ - did->written.instant <= kUndoFor) {
    const auto live = [&](const record::Entry& e) { return e.id == did->id; };
    const bool holds = std::any_of(shown.litter.log.begin(), shown.litter.log.end(), live);
    const auto* strike = record::body_as<record::Strike>(*did);
    const auto* struck = strike ? book_.find(strike->strike) : nullptr;
    if (struck && holds) {
      const auto* again = record::body_as<record::Strike>(*struck);
      const auto* back = again ? book_.find(again->strike) : nullptr;
      view.notice = back ? "Put back: " + page::say_entry(shown.litter, *back)
                         : "Struck out: " + page::say_entry(shown.litter, *struck);
      view.undo_id = did->id;  // striking the strike out brings the entry back
    } else if (holds) {
      view.notice = "Written down: " + page::say_entry(shown.litter, *did);
      view.undo_id = did->id;
    }
    // What one tap wrote down, one tap takes back.
    for (const auto& e : shown.litter.log)
      if (holds && e.id != did->id && e.kind == did->kind && e.by == did->by && e.written == did->written)
        view.undo_with.push_back(e.id);
    if (!view.undo_with.empty()) view.notice += ", and " + std::to_string(view.undo_with.size()) + " more";
  }
  if (view.notice.empty() && shown.zone_trouble)
    view.notice = "Times are shown in UTC: " + shown.zone_trouble->what + ". Choose another time zone in the settings.";

  const int status = problem ? status_of(*problem) : 200;
  if (place.screen == "due") return html(status, page::due_page(view));
  if (place.screen == "whelping") return html(status, page::whelping_page(view));
  if (place.screen == "weigh-in") return html(status, page::weigh_in_page(view, asked("turn")));
  if (place.screen == "dosing") return html(status, page::dosing_page(view, asked("product")));
  if (place.screen == "paper") return html(status, page::paper_page(view));
  if (place.screen == "supplies") {
    view.leftovers_from = leftovers_for(key);
    return html(status, page::supplies_page(view));
  }
  if (place.screen == "homes") return html(status, page::homes_page(view));
  if (place.screen == "care") return html(status, page::care_page(view));
  if (place.screen == "nest") return html(status, page::nest_page(view));
  if (place.screen == "records") return html(status, page::records_page(view));
  if (place.screen == "log") return html(status, page::log_page(view));
  if (place.screen == "call") return html(status, page::call_page(view));
  if (place.screen == "settings") return html(status, page::settings_page(view));
  if (place.screen == "look-back") {
    view.earlier = earlier_litters(key, place.query.count("dam") != 0);
    return html(status, page::look_back_page(view));
  }
  if (place.screen == "pup" || place.screen == "handover") {
    const auto* pup = view.litter.pup(asked("label"));
    if (pup) return html(status, place.screen == "pup" ? page::pup_page(view, *pup) : page::handover_page(view, *pup));
    if (!problem)
      return trouble(404, {"NOT_FOUND", "there is no such pup in this litter", "choose one on the Now screen"});
  }
  return html(status, page::now_page(view));
}

// ---- taking entries in ----------------------------------------------------------------------------------------------

Known App::known(const std::string& key, const Request& request) {
  return {book_.page(key).litter, [this](const record::EntryId& id) { return book_.find(id); }, now_, who(request)};
}

Result<void> App::take(const std::string& key, const std::vector<record::Entry>& entries) {
  if (std::all_of(entries.begin(), entries.end(), [&](const auto& e) { return book_.find(e.id) != nullptr; }))
    return {};
  if (auto may = may_choose(key, entries); !may) return may;
  if (const auto misfits = book_.new_misfits(key, entries); !misfits.empty()) {
    const auto& misfit = misfits.front();
    const auto own = [&](const record::Entry& e) { return e.id == misfit.id; };
    const auto* other = std::any_of(entries.begin(), entries.end(), own) ? nullptr : book_.find(misfit.id);
    if (other)
      return problem(misfit.code,
                     "after this, an entry would no longer fit: " + page::say_entry(book_.page(key).litter, *other) +
                         " (" + misfit.why + ")",
                     "look at that entry in the log; if it is the wrong one, strike it out or correct it first");
    return problem(misfit.code, misfit.why, advice_for(misfit.code));
  }
  return book_.append(entries);
}

Response App::record_entry(const Request& request, const std::string& key) {
  auto place = place_of(typed(request.form, "back"));
  auto entry = entry_from(request.form, known(key, request));
  const auto taken = entry ? take(key, {*entry}) : Result<void>{tl::unexpected(entry.error())};
  if (!taken) {
    // The same screen again: `back` may already name the next turn or leave out what is being corrected.
    const auto about = typed(request.form, "about"), corrects = typed(request.form, "corrects");
    if (place.screen == "weigh-in" && !about.empty()) place.query["turn"] = about;
    if (!corrects.empty()) place.query["correct"] = corrects;
    return screen(key, place, &request, &taken.error());
  }
  place.query["did"] = entry->id;
  return see_other(address_of(key, place));
}

Response App::strike(const Request& request, const std::string& key) {
  auto place = place_of(typed(request.form, "back"));
  place.query.erase("did");
  const auto entries = strike_from(request.form, known(key, request));
  if (!entries) return screen(key, place, &request, &entries.error());
  if (!entries->empty()) {
    if (const auto ok = take(key, *entries); !ok) return screen(key, place, &request, &ok.error());
    place.query["did"] = entries->front().id;
  }
  // A pup whose birth was just taken back has no page any more.
  if (place.screen == "pup") {
    const auto* birth =
        entries->empty() ? nullptr : book_.find(record::body_as<record::Strike>(entries->front())->strike);
    if (birth && record::body_as<record::Birth>(*birth)) place = {"whelping", {{"did", entries->front().id}}};
  }
  return see_other(address_of(key, place));
}

Response App::answer(const Request& request, const std::string& key) {
  auto place = place_of(typed(request.form, "back"));
  place.query.erase("did");
  const auto entries = answer_from(request.form, known(key, request));
  const auto taken = entries ? take(key, *entries) : Result<void>{tl::unexpected(entries.error())};
  if (!taken) return screen(key, place, &request, &taken.error());
  if (!entries->empty()) place.query["did"] = entries->front().id;
  return see_other(address_of(key, place));
}

Response App::tick(const Request& request, const std::string& key) {
  auto place = place_of(typed(request.form, "back"));
  place.query.erase("did");
  const auto entries = tick_from(request.form, known(key, request), book_.assess(key, parts_.reference).care);
  const auto taken = entries ? take(key, *entries) : Result<void>{tl::unexpected(entries.error())};
  if (!taken) return screen(key, place, &request, &taken.error());
  if (!entries->empty()) place.query["did"] = entries->front().id;
  return see_other(address_of(key, place));
}

Response App::calendar(const std::string& key) {
  const auto& litter = book_.page(key).litter;
  Response r;
  r.content_type = "text/calendar; charset=utf-8";
  r.body = parts_.calendar(litter, book_.assess(key, parts_.reference));
  r.headers.emplace_back("Content-Disposition", "attachment; filename=\"" + page::percent_encode(key) + "-care.ics\"");
  return r;
}

Response App::feed(const Request& request) {
  const auto& file = request.segments.back();
  const auto key = file.ends_with(".ics") ? file.substr(0, file.size() - 4) : std::string{};
  if (key.empty() || !book_.has(key)) return not_found();
  return calendar(key);
}

Response App::settings(const Request& request, const std::string& key) {
  Place place{"settings", {}};
  const auto zone_known = [this](const std::string& name) -> Result<void> {
    const auto zone = parts_.zones(name);
    if (!zone) return tl::unexpected(zone.error());
    return {};
  };
  const auto entry = settings_from(request.form, known(key, request), zone_known);
  if (!entry) return screen(key, place, &request, &entry.error());
  if (*entry) {
    if (const auto ok = take(key, {**entry}); !ok) return screen(key, place, &request, &ok.error());
    place.query["did"] = (*entry)->id;
  }
  return see_other(address_of(key, place));
}

std::string App::leftovers_for(const std::string& key) {
  const auto& here = book_.page(key).litter;
  if (!here.stock.empty()) return {};
  std::string best;
  Instant newest = Instant::min();
  for (const auto& other : book_.litters()) {
    if (other == key) continue;
    const auto& litter = book_.page(other).litter;
    if (litter.stock.empty() || !supplies::finished(litter, now_) || litter.stock.back().at <= newest) continue;
    // What one litter took over is not there for a second one.
    const bool taken = std::any_of(book_.litters().begin(), book_.litters().end(), [&](const std::string& k) {
      const auto& stock = book_.page(k).litter.stock;
      return std::any_of(stock.begin(), stock.end(), [&](const auto& s) { return s.what.from == other; });
    });
    if (!taken) best = other, newest = litter.stock.back().at;
  }
  return best;
}

Response App::carry(const Request& request, const std::string& key) {
  const Place place{"supplies", {}};
  const auto from = leftovers_for(key);
  if (from.empty() || from != typed(request.form, "from")) return see_other(address_of(key, place));  // tapped twice
  const auto& zone = book_.page(key).litter.zone;
  const auto now = zone.stamp(now_);
  std::vector<record::Entry> entries;
  for (auto& stock : supplies::opening_stock(book_.page(from).litter, parts_.reference, zone.day_of(now_)))
    entries.push_back(record::make_entry(parts_.fresh_id(), key, now, now, who(request), "", std::move(stock)));
  if (const auto ok = take(key, entries); !ok) return screen(key, place, &request, &ok.error());
  return see_other(address_of(key, place));
}

// ---- paper and news -------------------------------------------------------------------------------------------------

Response App::paper(const Request& request, const std::string& key, const std::string& file) {
  const auto size = request.field("size");
  const std::string_view name = file;
  const auto dot = std::min(name.rfind('.'), name.size());
  const auto form = name.substr(0, dot), kind = name.substr(dot);
  const bool of_sheet = form == "pup-sheet" && (kind == ".png" || kind == ".txt");
  if (!(kind == ".pdf" || of_sheet) || !(size.empty() || size == "a4" || size == "letter")) return not_found();
  const auto& litter = book_.page(key).litter;
  const auto assessment = book_.assess(key, parts_.reference);
  paper::Given given;
  given.pup = request.field("pup");
  given.picture = [this](const std::string& sha) { return parts_.attachments.read(sha); };
  constexpr std::pair<const char*, const char*> kPeople[] = {{"breeder", "Breeder"},
                                                             {"telephone", "Breeder's telephone"},
                                                             {"family", "Family"},
                                                             {"price", "Price"},
                                                             {"deposit", "Deposit"}};
  for (const auto& [field, who] : kPeople)
    if (auto says = typed(request.form, field); !says.empty()) given.contacts.emplace_back(who, std::move(says));
  const auto made = [&]() -> Result<std::string> {
    if (!of_sheet) return parts_.paper(form, size == "letter", litter, assessment, given);
    if (kind == ".png") return parts_.pup_png(litter, assessment, given);
    const auto* pup = litter.pup(given.pup);
    if (!pup) return problem("PUP_UNKNOWN", "there is no such pup in this litter", "choose one that is there");
    return homes::pup_text(litter, parts_.reference, assessment.care, *pup, now_);
  };
  auto bytes = made();
  if (!bytes) return trouble(bytes.error().code == "FORM_FAILED" ? 500 : 404, bytes.error());
  Response r;
  r.content_type = kind == ".pdf" ? "application/pdf" : kind == ".png" ? "image/png" : "text/plain; charset=utf-8";
  r.body = std::move(*bytes);
  std::string saved = given.pup.empty() ? percent_encode(key) : "pup-" + percent_encode(given.pup);
  if (!of_sheet) saved = percent_encode(key) + (given.pup.empty() ? "" : "-pup-" + percent_encode(given.pup));
  r.headers.emplace_back("Content-Disposition",
                         "inline; filename=\"" + saved + "-" + percent_encode(form) + std::string(kind) + "\"");
  return r;
}

Response App::live(const Request& request) {
  // A page may say what it has seen (`from`, or the browser by itself on reconnecting). One that does not may have been
  // made just before the last entry came: it is told at once, so that nothing falls between page and stream.
  auto seen_text = request.header("last-event-id");
  if (seen_text.empty()) seen_text = request.field("from");
  const auto seen = parse_number(seen_text);
  const auto count_now = book_.count_for_news();
  std::uint64_t told = book_.grew_just_now() ? ~std::uint64_t{0} : count_now;
  if (seen && *seen >= 0 && *seen < 1e15) told = static_cast<std::uint64_t>(*seen);
  Response r;
  r.content_type = "text/event-stream";
  r.stream = std::make_shared<EventStream>();
  using Steady = std::chrono::steady_clock;
  r.stream->next = [this, told, opened = false, last = Steady::now()](std::string& out) mutable {
    if (!opened) out += "retry: 2000\n\n";
    opened = true;
    if (const auto count = book_.count_for_news(); count != told) {
      told = count;
      out += "id: " + std::to_string(count) + "\nevent: news\ndata: " + std::to_string(count) + "\n\n";
    } else if (Steady::now() - last >= parts_.sign_of_life) {
      out += ": still here\n\n";
    }
    if (!out.empty()) last = Steady::now();
    return true;
  };
  return r;
}

}  // namespace lampside::server
