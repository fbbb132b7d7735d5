#pragma once

#include <chrono>
#include <functional>
#include <map>
#include <mutex>
#include <string>

namespace rollwright::http {

/// Time that only goes forward: setting the machine's clock neither ends a wait nor a session.
using Moment = std::chrono::steady_clock::time_point;
using Now = std::function<Moment()>;

struct ThrottleLimits {
  int free = 3;                          // wrong tries before anybody waits
  std::chrono::seconds first_wait{2};    // doubles with each further one
  std::chrono::seconds most_wait{300};
  std::chrono::seconds forget{3600};     // after so long without a try
  int locks_after = 0;                   // wrong tries after which only `right` opens; 0: never
};

/// Counts wrong tries by a key, and says how long the next one has to wait.
///
/// A try is counted before it is judged and taken back when it was right, so that many tries at
/// once get no further than the same tries one after the other. What is tried during a wait is not
/// judged and not counted.
/// Threads: any.
class Throttle {
 public:
  static constexpr std::size_t kMostKeys = 4096;  // then the oldest is forgotten

  Throttle(const ThrottleLimits& limits, Now now) : limits_(limits), now_(std::move(now)) {}

  struct Verdict {
    bool may = false;
    bool is_locked = false;
    std::chrono::seconds wait{0};
  };
  /// A try begins.
  [[nodiscard]] Verdict take(const std::string& key);
  /// It was right, or the person proved themselves in a stronger way: all is forgotten.
  void right(const std::string& key);
  /// It was not judged after all: as if it had not been.
  void give_back(const std::string& key);

 private:
  struct Tries {
    int wrong = 0;
    Moment until = {};  // the next try waits until then
    Moment last = {};
  };
  void drop_old(Moment now);
  void drop_oldest();

  ThrottleLimits limits_;
  Now now_;
  std::mutex mutex_;
  std::map<std::string, Tries> tries_;
};

}  // namespace rollwright::http
