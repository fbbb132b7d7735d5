#pragma once

#include <string>

namespace rollwright::bench {

/// The real server in a process of its own, on a free port of this machine.
class ServerProcess {
 public:
  /// Starts it and waits until it says where it serves; `port()` is 0 when it never did.
  ServerProcess(const std::string& program, const std::string& book);
  ~ServerProcess();
  ServerProcess(const ServerProcess&) = delete;
  ServerProcess& operator=(const ServerProcess&) = delete;

  [[nodiscard]] int port() const { return port_; }
  /// Memory that it takes now, as the system counts it (VmRSS); 0 where that cannot be read.
  [[nodiscard]] double memory_mib() const;
  /// SIGKILL, and waits until it is gone.
  void kill_now();

 private:
  int process_ = -1;
  int port_ = 0;
};

/// Runs a command to its end; gives its exit code. Its output goes nowhere.
int run_quietly(const std::string& command);

}  // namespace rollwright::bench
