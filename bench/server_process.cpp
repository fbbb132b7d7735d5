#include "server_process.hpp"

#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdlib>
#include <fstream>

namespace rollwright::bench {

ServerProcess::ServerProcess(const std::string& program, const std::string& book) {
  int ends[2];
  if (::pipe(ends) != 0) return;
  process_ = ::fork();
  if (process_ == 0) {
    ::dup2(ends[1], STDOUT_FILENO);
    ::close(ends[0]);
    ::close(ends[1]);
    ::execl(program.c_str(), "rollwright", "--book", book.c_str(), "--now",
            "2026-11-25T07:45:00Z", "serve", "--port", "0", nullptr);
    ::_exit(127);
  }
  ::close(ends[1]);
  std::string said;
  char letter = 0;
  while (said.find('\n') == std::string::npos && ::read(ends[0], &letter, 1) == 1) said += letter;
  ::close(ends[0]);
  const std::size_t colon = said.find("127.0.0.1:");
  if (colon != std::string::npos) port_ = std::atoi(said.c_str() + colon + 10);
}

ServerProcess::~ServerProcess() { kill_now(); }

double ServerProcess::memory_mib() const {
  std::ifstream status("/proc/" + std::to_string(process_) + "/status");
  std::string word;
  while (status >> word) {
    double kib = 0;
    if (word == "VmRSS:" && status >> kib) return kib / 1024;
  }
  return 0;
}

void ServerProcess::kill_now() {
  if (process_ <= 0) return;
  ::kill(process_, SIGKILL);
  ::waitpid(process_, nullptr, 0);
  process_ = -1;
}

int run_quietly(const std::string& command) {
  const int status = std::system((command + " >/dev/null 2>&1").c_str());
  return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

}  // namespace rollwright::bench
