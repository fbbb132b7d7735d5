#include "cli/verbs.hpp"

#include <fstream>

namespace rollwright::cli {

int fail(const Common& common, const Error& error) {
  if (common.json) {
    std::cout << json::text_of(error) << "\n";
  } else {
    std::cerr << "rollwright: " << error.full() << "\n";
  }
  return row_of(error.code).exit_code;
}

Result<void> write_file(const std::string& path, const std::string& bytes) {
  std::ofstream file(path, std::ios::binary);
  file.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
  file.close();
  if (file) return {};
  return refuse(Code::kUnavailable, "the file cannot be written", {.file = path});
}

int write_paper(const Common& common, const Result<std::string>& paper, const std::string& file) {
  if (!paper) return fail(common, paper.error());
  if (Result<void> ok = write_file(file, *paper); !ok) return fail(common, ok.error());
  std::cout << "Written to " << file << "\n";
  return 0;
}

CLI::App* Verbs::add_to(CLI::App& above, const char* name, const char* help, Verb run) {
  CLI::App* sub = above.add_subcommand(name, help);
  sub->callback([this, run = std::move(run)] { said = run; });
  return sub;
}

CLI::App* Verbs::add_bookless(const char* name, const char* help, BooklessVerb run) {
  CLI::App* sub = app_.add_subcommand(name, help);
  sub->callback([this, run = std::move(run)] { said_bookless = run; });
  return sub;
}

CLI::App* Verbs::group(const char* name, const char* help) {
  CLI::App* above = app_.add_subcommand(name, help);
  above->require_subcommand(1);
  return above;
}

}  // namespace rollwright::cli
