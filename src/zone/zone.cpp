#include "zone/zone.hpp"

#include <cctz/civil_time.h>
#include <cctz/time_zone.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <numeric>
#include <utility>
#include <vector>

namespace lampside::zone {
namespace {

namespace fs = std::filesystem;
using cctz::civil_second;

const civil_second kFrom{1990, 1, 1};
const civil_second kTo{2101, 1, 1};

/// The folder cctz reads (it knows the same variable).
fs::path tables() {
  const char* dir = std::getenv("TZDIR");
  return dir != nullptr && *dir != '\0' ? fs::path{dir} : fs::path{"/usr/share/zoneinfo"};
}

/// cctz would also open "/etc/passwd", "file:..." and its own "Fixed/UTC+01:00:00"; "localtime" and "right/..." mean
/// something else on the next machine. A journal must mean the same everywhere, so only IANA names pass.
bool looks_like_iana(const std::string& name) {
  if (name.empty() || name.size() > 64 || name.front() == '/' || name.find("..") != std::string::npos) return false;
  for (const char* other : {"right/", "posix/", "Fixed/", "localtime", "posixrules"})
    if (name.starts_with(other)) return false;
  return std::all_of(name.begin(), name.end(), [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_' || c == '-' ||
           c == '+' || c == '/';
  });
}

std::vector<std::string> known_names() {
  std::vector<std::string> names;
  std::error_code error;
  for (fs::recursive_directory_iterator it{tables(), error}, end; !error && it != end; it.increment(error)) {
    const std::string name = it->path().lexically_relative(tables()).generic_string();
    const bool zone = looks_like_iana(name) && name.front() >= 'A' && name.front() <= 'Z';
    std::error_code ignored;
    if (it->is_directory(ignored)) {
      if (!zone) it.disable_recursion_pending();
    } else if (zone && name != "SECURITY" && name != "Factory") {
      names.push_back(name);
    }
  }
  std::sort(names.begin(), names.end());
  return names;
}

std::string folded(std::string_view text) {
  std::string out{text};
  for (char& c : out) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    if (c == ' ' || c == '-') c = '_';
  }
  return out;
}

/// Letters to change, add or leave out to make `b` of `a` (Levenshtein).
std::size_t distance(std::string_view a, std::string_view b) {
  std::vector<std::size_t> row(b.size() + 1);
  std::iota(row.begin(), row.end(), std::size_t{0});
  for (std::size_t i = 1; i <= a.size(); ++i) {
    std::size_t diagonal = std::exchange(row[0], i);
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t replaced = diagonal + (a[i - 1] == b[j - 1] ? 0 : 1);
      diagonal = std::exchange(row[j], std::min({row[j] + 1, row[j - 1] + 1, replaced}));
    }
  }
  return row.back();
}

std::string_view city_of(std::string_view name) { return name.substr(name.find_last_of('/') + 1); }

/// Up to three names a typing slip away, by the whole name or by the town alone; nearest first.
std::string near_names(const std::string& asked) {
  const std::string want = folded(asked.substr(0, 64));
  std::vector<std::pair<std::size_t, std::string>> near;
  for (const std::string& name : known_names()) {
    const std::string have = folded(name);
    const std::size_t steps = std::min(distance(want, have), distance(city_of(want), city_of(have)));
    if (steps <= 1 + want.size() / 6) near.emplace_back(steps, name);
  }
  std::sort(near.begin(), near.end());
  std::string out;
  for (std::size_t i = 0; i < near.size() && i < 3; ++i) out += (i == 0 ? "" : ", ") + near[i].second;
  return out;
}

Minutes in_minutes(int seconds) {
  // Every offset in force since 1990 is a whole minute; the cast would show in the tests if that changed.
  return std::chrono::duration_cast<Minutes>(std::chrono::seconds{seconds});
}

}  // namespace

Result<Zone> load(const std::string& name) {
  cctz::time_zone tz;
  if (!looks_like_iana(name) || !cctz::load_time_zone(name, &tz)) {
    const std::string near = near_names(name);
    if (near.empty() && known_names().empty())
      return problem("ZONE_NO_TABLES", "this machine has no time zone tables", "install the package tzdata");
    return problem("ZONE_UNKNOWN", "there is no time zone \"" + name.substr(0, 64) + "\"",
                   near.empty() ? "write its IANA name, for example Europe/Berlin or America/New_York"
                                : "did you mean " + near + "?");
  }
  auto t = cctz::convert(kFrom, cctz::utc_time_zone());
  const auto end = cctz::convert(kTo, cctz::utc_time_zone());
  const Minutes initial = in_minutes(tz.lookup(t).offset);
  std::vector<Zone::Change> changes;
  cctz::time_zone::civil_transition change;
  while (tz.next_transition(t, &change)) {
    t = tz.lookup(change.to).trans;
    if (t >= end) break;
    const auto after = tz.lookup(t);
    changes.push_back(
        {Instant{std::chrono::duration_cast<Span>(t.time_since_epoch())}, in_minutes(after.offset), after.abbr});
  }
  return Zone{name, initial, std::move(changes)};
}

std::string local_name() {
  std::string name;
  if (const char* set = std::getenv("TZ"); set != nullptr && *set != '\0') {
    name = *set == ':' ? set + 1 : set;
  } else {
    std::error_code error;
    const std::string target = fs::read_symlink("/etc/localtime", error).generic_string();
    constexpr std::string_view folder = "zoneinfo/";
    if (const auto at = target.rfind(folder); at != std::string::npos) {
      name = target.substr(at + folder.size());
    } else if (std::ifstream file{"/etc/timezone"}; file) {
      file >> name;
    }
  }
  if (name == "Etc/UTC" || !load(name)) return "UTC";
  return name;
}

}  // namespace lampside::zone
