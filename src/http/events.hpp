#pragma once

#include <cstdint>
#include <deque>
#include <string>

namespace rollwright::http {

/// What happened lately, numbered, so that a page that was away catches up by the last number it
/// saw. Keeps the newest `kMost`; who missed more is told to look at everything again.
///
/// Threads: none of its own; lives on the server's event loop.
class Events {
 public:
  static constexpr std::size_t kMost = 256;

  /// Adds a change and returns its number.
  std::int64_t add(const std::string& order, const std::string& what);
  [[nodiscard]] std::int64_t last() const { return last_; }
  /// The text of the stream after number `seen`: events as the HTML standard writes them. A reader
  /// that missed more than is kept, or whose number is from before a restart, gets one event
  /// `changed` about everything.
  [[nodiscard]] std::string since(std::int64_t seen) const;

  /// How a search goes, as JSON. Only the newest is kept, and its number stands in no event: a page
  /// that was away needs no older one.
  void add_progress(const std::string& json);
  [[nodiscard]] std::int64_t last_progress() const { return last_progress_; }
  /// The newest event `plan`, if it came after number `seen`.
  [[nodiscard]] std::string progress_since(std::int64_t seen) const;

 private:
  std::int64_t last_ = 0;
  std::deque<std::string> kept_;  // kept_.back() is number last_
  std::int64_t last_progress_ = 0;
  std::string progress_;
};

}  // namespace rollwright::http
