// Pictures coming in from a phone and going out to pages, and what earlier litters of the same dam came to.
#include <algorithm>

#include "picture/picture.hpp"
#include "picture/sha256.hpp"
#include "server/app.hpp"
#include "server/urlencoded.hpp"

namespace lampside::server {
namespace {

Response nothing_there() {
  Response r;
  r.status = 404;
  r.content_type = "text/plain; charset=utf-8";
  r.body = "This picture is not there.\n";
  return r;
}

bool of_litter(const record::Litter& litter, const std::string& sha) {
  return std::any_of(litter.photos.begin(), litter.photos.end(), [&](const auto& p) { return p.what.sha256 == sha; }) ||
         std::any_of(litter.money.begin(), litter.money.end(), [&](const auto& m) { return m.what.receipt == sha; });
}

}  // namespace

Response App::take_picture(const Request& request, const std::string& key) {
  auto place = place_of(typed(request.form, "back"));
  place.query.erase("did");
  const auto taken = [&]() -> Result<std::string> {
    if (request.files.empty())
      return problem("PICTURE_NONE", "no picture was chosen", "tap the field, choose or take one, then save");
    const auto clean = picture::clean(request.files.front().bytes);
    if (!clean) return tl::unexpected(clean.error());
    const auto sha = picture::sha256(*clean);
    // The file first: an entry without its picture would be a promise that is not kept.
    if (const auto kept = parts_.attachments.keep(sha, *clean); !kept) return tl::unexpected(kept.error());
    auto fields = request.form;
    for (const auto* name : {"kind", "file", "sha256", "corrects", "receipt"}) fields.erase(name);
    if (const auto money = typed(fields, "receipt_of"); !money.empty()) {  // the same entry, now with its receipt
      fields.emplace("kind", "money");
      fields.emplace("corrects", money);
      fields.emplace("receipt", sha);
    } else {
      fields.emplace("kind", "photo");
      fields.emplace("file", sha + ".jpg");
      fields.emplace("sha256", sha);
    }
    const auto entry = entry_from(fields, known(key, request));
    if (!entry) return tl::unexpected(entry.error());
    if (const auto ok = take(key, {*entry}); !ok) return tl::unexpected(ok.error());
    return entry->id;
  }();
  if (!taken) return screen(key, place, &request, &taken.error());
  place.query["did"] = *taken;
  Response r;
  r.status = 303;
  r.headers.emplace_back("Location", address_of(key, place));
  return r;
}

Response App::picture(const Request& request, const std::string& key, const std::string& file) {
  const auto sha = file.ends_with(".jpg") ? file.substr(0, file.size() - 4) : std::string{};
  if (!picture::is_sha256(sha) || !of_litter(book_.page(key).litter, sha)) return nothing_there();
  auto bytes = parts_.attachments.read(sha);
  if (bytes && request.field("size") == "small") bytes = picture::shrunk(*bytes, picture::kSmall);
  if (!bytes) return nothing_there();
  Response r;
  r.content_type = "image/jpeg";
  r.body = std::move(*bytes);
  r.headers.emplace_back("Cache-Control", "private, max-age=31536000, immutable");  // the address names the content
  return r;
}

std::vector<homes::LookBack> App::earlier_litters(const std::string& key, bool later) {
  std::vector<homes::LookBack> out;
  const auto dam = book_.page(key).litter.dam_name();
  const auto first = book_.page(key).litter.first_birth();
  for (const auto& other : book_.litters()) {
    if (other == key) continue;
    const auto& litter = book_.page(other).litter;
    const auto born = litter.first_birth();
    const bool hers = litter.facts.dam && litter.facts.dam->name && *litter.facts.dam->name == dam;
    if (hers && born && (later || !first || *born < *first))
      out.push_back(homes::look_back(litter, parts_.reference, now_));
  }
  std::sort(out.begin(), out.end(), [](const auto& a, const auto& b) { return a.first > b.first; });
  return out;
}

}  // namespace lampside::server
