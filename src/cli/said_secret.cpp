#include "cli/said_secret.hpp"

#include <iostream>

#include <fmt/format.h>
#include <termios.h>
#include <unistd.h>

namespace rollwright::cli {
namespace {

/// The terminal shows nothing of what is typed until this is gone.
class Unseen {
 public:
  Unseen() {
    if (tcgetattr(STDIN_FILENO, &before_) != 0) return;
    termios quiet = before_;
    quiet.c_lflag &= ~static_cast<tcflag_t>(ECHO);
    changed_ = tcsetattr(STDIN_FILENO, TCSAFLUSH, &quiet) == 0;
  }
  Unseen(const Unseen&) = delete;
  Unseen& operator=(const Unseen&) = delete;
  ~Unseen() {
    if (changed_) tcsetattr(STDIN_FILENO, TCSAFLUSH, &before_);
  }

 private:
  termios before_{};
  bool changed_ = false;
};

std::string line() {
  std::string text;
  std::getline(std::cin, text);
  if (!text.empty() && text.back() == '\r') text.pop_back();
  return text;
}

std::string asked(const std::string& question) {
  std::cerr << question << std::flush;
  std::string text;
  {
    const Unseen unseen;
    text = line();
  }
  std::cerr << "\n";
  return text;
}

}  // namespace

Result<std::string> said_secret(const char* what) {
  const bool at_terminal = isatty(STDIN_FILENO) == 1;
  const std::string said = at_terminal ? asked(fmt::format("The {}: ", what)) : line();
  if (said.empty()) {
    return refuse(Code::kBadInput, fmt::format("say the {} at the terminal, or hand it over as the "
                                               "first line of the input",
                                               what));
  }
  if (at_terminal && asked(fmt::format("The {} again: ", what)) != said) {
    return refuse(Code::kBadInput, "the two are not the same; nothing was changed");
  }
  return said;
}

}  // namespace rollwright::cli
