// Writes the pages of one litter to files, to look at in a browser.
// page_gallery JOURNAL.jsonl MOMENT FOLDER   (MOMENT: "2026-10-07T04:20:00+01:00")
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <iostream>

#include "page/page.hpp"
#include "record/litter.hpp"
#include "zone/zone.hpp"

using namespace lampside;

namespace {

void write(const std::filesystem::path& path, std::string_view body) {
  std::filesystem::create_directories(path.parent_path());
  std::ofstream{path, std::ios::binary} << body;
}

std::string next_id() {
  static int n = 0;
  char id[40];
  std::snprintf(id, sizeof id, "00000000-0000-4000-8000-%012d", ++n);
  return id;
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 4) {
    std::cerr << "page_gallery JOURNAL.jsonl MOMENT FOLDER\n";
    return 2;
  }
  const auto now = parse_stamp(argv[2]);
  if (!now) {
    std::cerr << to_text(now.error()) << '\n';
    return 2;
  }
  std::vector<record::Entry> entries;
  std::ifstream in{argv[1]};
  for (std::string line; std::getline(in, line);) {
    auto entry = record::decode_line(line);
    if (!entry) {
      std::cerr << to_text(entry.error()) << '\n';
      return 1;
    }
    entries.push_back(*entry);
  }
  const auto known = record::known_at(entries, now->instant);
  const auto keys = record::litters_in(known);
  const std::filesystem::path folder{argv[3]};
  for (const auto& asset : page::assets()) write(folder / "assets" / asset.path, asset.body);
  if (!keys.empty()) {
    const auto& key = keys.front();
    const auto zone = zone::load(record::zone_name(known, key));
    const auto litter = record::fold(known, key, zone ? *zone : Zone{});
    const auto assessment = advice::assess(litter, reference::built_in(), now->instant);
    page::View view{litter, assessment, now->instant, "token", "", "", {}, {}, next_id(), next_id};
    const auto at = folder / "l" / key;
    write(at / "now.html", page::now_page(view));
    write(at / "due.html", page::due_page(view));
    write(at / "whelping.html", page::whelping_page(view));
    write(at / "weigh-in.html", page::weigh_in_page(view, ""));
    write(at / "paper.html", page::paper_page(view));
    write(at / "log.html", page::log_page(view));
    write(at / "settings.html", page::settings_page(view));
    if (!litter.pups.empty()) {
      write(at / "pup.html", page::pup_page(view, litter.pups.front()));
      page::View after = view;
      after.notice = "Written down: a pup was born";
      after.undo_id = litter.pups.back().birth.id;
      write(at / "whelping-after.html", page::whelping_page(after));
      const record::Noted<record::Weight>* last = nullptr;
      for (const auto& pup : litter.pups)
        if (const auto* w = pup.last_weight(); w != nullptr && (last == nullptr || last->at < w->at)) last = w;
      if (last != nullptr) {
        after.notice = "Written down: a weight";
        after.undo_id = last->id;
        write(at / "weigh-in-after.html", page::weigh_in_page(after, ""));
      }
    }
  }
  write(folder / "start.html", page::start_page({"token", "Europe/Berlin", now->instant, {}, {}, {}, next_id()}));
  write(folder / "problem.html",
        page::problem_page(404, {"NO_PAGE", "There is no such page.", "Go back to the start and choose a screen."}));
}
