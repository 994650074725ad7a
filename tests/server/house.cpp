#include "house.hpp"

#include <algorithm>
#include <stdexcept>

namespace lampside::server::test {

Result<store::Receipt> MemoryJournal::append(std::span<const record::Entry> entries) {
  const std::lock_guard lock{mutex_};
  if (!failing_.empty()) return problem(failing_, "the journal fails as the test wants", "end the test");
  store::Receipt receipt;
  auto grown = entries_;
  for (const auto& e : entries) {
    const auto same = std::find_if(grown.begin(), grown.end(), [&](const auto& other) { return other.id == e.id; });
    if (same == grown.end()) {
      grown.push_back(e);
      ++receipt.appended;
    } else if (*same == e) {
      ++receipt.replayed;
    } else {
      return problem("STORE_CONFLICT", "id " + e.id + " is taken", "use another");
    }
  }
  entries_ = std::move(grown);
  return receipt;
}

Result<std::vector<record::Entry>> MemoryJournal::read(std::uint64_t from) {
  const std::lock_guard lock{mutex_};
  return std::vector<record::Entry>{entries_.begin() + static_cast<std::ptrdiff_t>(from), entries_.end()};
}

Result<void> MemoryJournal::take_out(std::span<const record::Entry> entries) {
  const std::lock_guard lock{mutex_};
  if (!failing_.empty()) return problem(failing_, "the journal fails as the test wants", "end the test");
  for (const auto& e : entries)
    for (auto& old : entries_)
      if (old.id == e.id) old = e;
  return {};
}

Result<std::uint64_t> MemoryJournal::count() {
  const std::lock_guard lock{mutex_};
  return entries_.size();
}

Result<std::string> MemoryJournal::setting(const std::string& name, const std::string& if_absent) {
  const std::lock_guard lock{mutex_};
  return settings_.emplace(name, if_absent).first->second;
}

std::vector<record::Entry> MemoryJournal::all() {
  const std::lock_guard lock{mutex_};
  return entries_;
}

void MemoryJournal::fail_with(std::string code) {
  const std::lock_guard lock{mutex_};
  failing_ = std::move(code);
}

Instant at(const std::string& iso) {
  const auto stamp = parse_stamp(iso);
  if (!stamp) throw std::invalid_argument(to_text(stamp.error()));
  return stamp->instant;
}

Result<Zone> zone_of(const std::string& name) {
  if (name == "UTC") return Zone{};
  if (name == "Europe/Berlin")
    return Zone{name,
                Minutes{60},
                {{at("2026-03-29T01:00:00Z"), Minutes{120}, "CEST"}, {at("2026-10-25T01:00:00Z"), Minutes{60}, "CET"}}};
  return problem("ZONE_UNKNOWN", "no time zone is called \"" + name + "\"", "type e.g. Europe/Berlin");
}

std::string id(int n) {
  auto digits = std::to_string(n);
  return "00000000-0000-4000-8000-" + std::string(12 - digits.size(), '0') + digits;
}

bool holds(const Answer& a, const std::string& text) { return a.body.find(text) != std::string::npos; }

House::House(const std::string& now, Future future) {
  turn_clock(now);
  Guard guard{{.secret = fresh_secret(), .address = "127.0.0.1", .feed = kFeed}};
  token_ = guard.token();
  app_ = std::make_unique<App>(
      App::Parts{.journal = journal,
                 .clock = [this] { return Instant{std::chrono::milliseconds{now_}}; },
                 .fresh_id = [this] { return id(++next_id_); },
                 .zones = zone_of,
                 .local_zone = "Europe/Berlin",
                 .reference = reference::built_in(),
                 .paper = [](std::string_view form, bool letter, const record::Litter& litter,
                             const advice::Assessment&, const paper::Given&) -> Result<std::string> {
                   if (form != "weights") return problem("PAPER_FORM", "no such form", "choose another");
                   return "%PDF of " + litter.key + (letter ? " on letter" : " on a4");
                 },
                 .calendar =
                     [](const record::Litter& litter, const advice::Assessment& a) {
                       return "BEGIN:VCALENDAR " + litter.key + " " + std::to_string(a.care.items.size());
                     },
                 .future = future,
                 .sign_of_life = std::chrono::milliseconds{600}},
      std::move(guard));
  auto listener = listen("127.0.0.1", 0, [this](const Request& r) { return app_->handle(r); }, {}, safe_headers());
  if (!listener) throw std::runtime_error(to_text(listener.error()));
  listener_ = std::move(*listener);
}

Answer House::post(const std::string& target, Fields fields, const std::string& headers) {
  const auto has = [&](const char* name) {
    return std::any_of(fields.begin(), fields.end(), [&](const auto& f) { return f.first == name; });
  };
  if (!has("token")) fields.emplace_back("token", token_);
  if (!has("id")) fields.emplace_back("id", id(++next_id_));
  return test::post(port(), target, fields, headers);
}

void House::with_pups() {
  const auto entry = [](int n, const std::string& when, const std::string& about, record::Body body) {
    const auto stamp = parse_stamp(when).value();
    return record::make_entry(id(n), "juniper-2026", stamp, stamp, "test", about, std::move(body));
  };
  record::LitterFacts facts;
  facts.dam = record::Parent{.name = "Juniper", .breed = "Golden Retriever", .born = {}, .kg = {}, .parity = {}};
  facts.zone = "Europe/Berlin";
  record::Birth first, second;
  first.sex = record::Sex::female;
  first.grams = Grams{412.3};
  first.collar = "red";
  second.grams = Grams{398};
  second.collar = "blue";
  const auto taken = journal.append(std::vector{entry(1, "2026-02-20T09:00:00+01:00", "", facts),
                                                entry(2, "2026-03-01T02:10:30+01:00", "1", first),
                                                entry(3, "2026-03-01T02:55:10+01:00", "2", second)});
  if (!taken) throw std::runtime_error(to_text(taken.error()));
}

}  // namespace lampside::server::test
