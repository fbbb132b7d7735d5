#include "cli/verbs.hpp"

namespace rollwright::cli {

int fail(const Common& common, const Error& error) {
  if (common.json) {
    std::cout << json::text_of(error) << "\n";
  } else {
    std::cerr << "rollwright: " << error.full() << "\n";
  }
  return row_of(error.code).exit_code;
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
