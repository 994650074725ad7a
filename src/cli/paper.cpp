#include <fmt/format.h>

#include <cstdio>
#include <filesystem>

#include "cli/commands.hpp"
#include "cli/files.hpp"
#include "cli/shell.hpp"
#include "homes/pup_facts.hpp"
#include "paper/forms.hpp"
#include "reference/tables.hpp"
#include "store/attachments.hpp"

namespace lampside::cli {
namespace {

/// For the wall before there is a journal: a form with nothing filled in.
Scene blank(const std::optional<Moment>& at) {
  Scene scene{record::fold(std::span<const record::Entry>{}, "", Zone{}), {}};
  scene.assessment = advice::assess(scene.litter, reference::built_in(), at ? at->in(Zone{}) : machine_now());
  return scene;
}

Result<Scene> scene_for_paper(const Source& source) {
  auto scene = scene_of(source);
  const bool nothing_yet = !scene && (scene.error().code == "DATA_NONE" || scene.error().code == "LITTER_NONE");
  if (nothing_yet && source.file.empty() && source.data.empty() && source.litter.empty()) return blank(source.at);
  return scene;
}

/// A file name of the form and the litter: whatever a litter is called, no folder and no surprise.
std::string default_name(const std::string& form, const std::string& litter) {
  std::string name = litter.empty() ? form : form + "-" + litter;
  for (char& c : name)
    if (c == '/' || c == '\\' || static_cast<unsigned char>(c) < 0x20) c = '_';
  return name + ".pdf";
}

/// The pictures of a data folder; a journal from a file has none beside it.
paper::Given given_of(const PaperCommand& command) {
  paper::Given given;
  given.pup = command.pup;
  if (!command.source.file.empty()) return given;
  if (const auto folder = data_folder(command.source.data))
    given.picture = [kept = store::Attachments::beside(*folder)](const std::string& sha) { return kept.read(sha); };
  return given;
}

Result<std::string> made(const PaperCommand& command, paper::Sheet sheet, const Scene& scene) {
  const auto given = given_of(command);
  const bool png = command.out.ends_with(".png"), txt = command.out.ends_with(".txt");
  if (command.form != "pup-sheet" || !(png || txt))
    return paper::make_form(command.form, sheet, scene.litter, scene.assessment, given);
  const auto* pup = scene.litter.pup(command.pup);
  if (!pup)
    return problem("PUP_UNKNOWN", "there is no pup \"" + command.pup + "\" in this litter", "name one with --pup");
  if (png) return paper::pup_sheet_png(scene.litter, scene.assessment, given);
  return homes::pup_text(scene.litter, reference::built_in(), scene.assessment.care, *pup, scene.assessment.at);
}

}  // namespace

int run(const PaperCommand& command) {
  catch_stop();
  const auto sheet = paper::sheet_named(command.size);
  if (!sheet) return fail(sheet.error(), usage);
  const auto scene = scene_for_paper(command.source);
  if (!scene) return fail(scene.error());
  const auto pdf = made(command, *sheet, *scene);
  if (!pdf) return fail(pdf.error(), pdf.error().code == "FORM_UNKNOWN" ? usage : refused);
  if (command.out == "-") {
    if (std::fwrite(pdf->data(), 1, pdf->size(), stdout) == pdf->size() && std::fflush(stdout) == 0) return fine;
    return fail({"OUT_FAILED", "the form cannot be written to its end", "is the disk full, or the reader gone?"});
  }
  const std::string out = command.out.empty() ? default_name(command.form, scene->litter.key) : command.out;
  const auto written = write_whole(out, IfThere::replace, [&](std::ostream& file) -> Result<void> {
    file.write(pdf->data(), static_cast<std::streamsize>(pdf->size()));
    return {};
  });
  if (!written) return fail(written.error());
  const auto printed = print(
      fmt::format("wrote {}{}\n", out, scene->litter.key.empty() ? ", a blank form: there is no litter yet" : ""));
  return printed ? fine : fail(printed.error());
}

}  // namespace lampside::cli
