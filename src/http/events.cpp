#include "http/events.hpp"

#include <algorithm>

#include <fmt/format.h>

namespace rollwright::http {
namespace {

std::string quoted(const std::string& text) {
  std::string out = "\"";
  for (const char c : text) {
    if (c == '"' || c == '\\') out += '\\';
    if (static_cast<unsigned char>(c) >= 0x20) out += c;
  }
  return out + '"';
}

std::string event_text(std::int64_t number, const std::string& order, const std::string& what) {
  return fmt::format("id: {}\nevent: changed\ndata: {{\"order\": {}, \"what\": {}}}\n\n", number,
                     quoted(order), quoted(what));
}

}  // namespace

std::int64_t Events::add(const std::string& order, const std::string& what) {
  ++last_;
  kept_.push_back(event_text(last_, order, what));
  if (kept_.size() > kMost) kept_.pop_front();
  return last_;
}

std::string Events::since(std::int64_t seen) const {
  if (seen == last_) return {};
  // A number from before the server was started again: nobody knows what that page missed.
  if (seen > last_) return event_text(last_, "", "much");
  const auto missed = static_cast<std::size_t>(last_ - seen);
  if (missed > kept_.size()) return event_text(last_, "", "much");
  std::string text;
  for (std::size_t i = kept_.size() - missed; i < kept_.size(); ++i) text += kept_[i];
  return text;
}

void Events::add_progress(const std::string& json) {
  ++last_progress_;
  progress_ = fmt::format("event: plan\ndata: {}\n\n", json);
}

std::string Events::progress_since(std::int64_t seen) const {
  return seen == last_progress_ ? std::string() : progress_;
}

}  // namespace rollwright::http
