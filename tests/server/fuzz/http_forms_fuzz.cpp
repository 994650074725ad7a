// Any bytes into the parsers of addresses, forms and cookies, and what they give into a form's entry. Looks for
// crashes, leaks and hangs, and that whatever is taken can be written to the journal and read back.
#include <cstdint>
#include <cstdlib>

#include "server/forms.hpp"
#include "server/guard.hpp"
#include "server/urlencoded.hpp"

namespace {

using namespace lampside;

const record::Litter& litter() {
  static const record::Litter kLitter = [] {
    const auto stamp = parse_stamp("2026-03-01T02:10:30+01:00").value();
    record::Birth birth;
    birth.grams = Grams{412.3};
    const std::vector entries{
        record::make_entry("00000000-0000-4000-8000-000000000002", "j", stamp, stamp, "", "1", birth)};
    return record::fold(entries, "j", Zone{});
  }();
  return kLitter;
}

void must(bool holds) {
  if (!holds) std::abort();
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view bytes{reinterpret_cast<const char*>(data), size};
  (void)server::parse_cookies(bytes);
  (void)server::host_name(bytes);
  if (const auto path = server::parse_path(bytes))
    for (const auto& part : *path) must(server::valid_utf8(part));
  if (const auto text = server::percent_decode(bytes, server::Plus::is_space))
    must(server::percent_decode(server::percent_encode(*text), server::Plus::is_plus) == *text);
  if (const auto form = server::parse_form(bytes)) {
    must(form->size() <= server::FormLimits{}.fields);
    const auto now = parse_stamp("2026-03-02T10:00:00+01:00").value().instant;
    const server::Known known{litter(),
                              [](const record::EntryId& id) -> const record::Entry* {
                                for (const auto& e : litter().log)
                                  if (e.id == id) return &e;
                                return nullptr;
                              },
                              now, "fuzz"};
    if (const auto entry = server::entry_from(*form, known)) must(record::check(*entry).has_value());
    if (const auto entries = server::strike_from(*form, known))
      for (const auto& entry : *entries) must(record::check(entry).has_value());
    const auto any_zone = [](const std::string&) -> Result<void> { return {}; };
    if (const auto entry = server::settings_from(*form, known, any_zone); entry && *entry)
      must(record::check(**entry).has_value());
    const auto start = server::start_from(*form, {{"j"},
                                                  "UTC",
                                                  [](const std::string&) -> Result<Zone> { return Zone{}; },
                                                  [] { return std::string{"00000000-0000-4000-8000-000000000003"}; },
                                                  now,
                                                  "fuzz"});
    if (start)
      for (const auto& entry : *start) must(record::check(entry).has_value());
  }
  return 0;
}
