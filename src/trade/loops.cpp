#include "trade/loops.hpp"

#include <algorithm>
#include <deque>
#include <set>

namespace rollwright::trade {
namespace {

using Links = std::map<std::string, std::vector<std::string>>;

/// Shortest way along the links from `start` back to it, or nothing.
std::vector<std::string> loop_through(const Links& after, const std::string& start) {
  std::map<std::string, std::string> came_from;
  std::deque<std::string> open = {start};
  while (!open.empty()) {
    const std::string at = open.front();
    open.pop_front();
    const auto links = after.find(at);
    if (links == after.end()) continue;
    for (const std::string& next : links->second) {
      if (next == start) {
        std::vector<std::string> loop = {start};
        for (std::string back = at; back != start; back = came_from.at(back)) loop.push_back(back);
        loop.push_back(start);
        std::ranges::reverse(loop);
        return loop;
      }
      if (came_from.emplace(next, at).second) open.push_back(next);
    }
  }
  return {};
}

}  // namespace

std::vector<std::vector<std::string>> loops_among(const Links& after) {
  std::vector<std::vector<std::string>> loops;
  std::set<std::string> told;
  for (const auto& [name, links] : after) {
    if (told.contains(name)) continue;
    std::vector<std::string> loop = loop_through(after, name);
    if (loop.empty()) continue;
    const bool news = std::ranges::none_of(
        loop, [&told](const std::string& each) { return told.contains(each); });
    told.insert(loop.begin(), loop.end());
    if (news) loops.push_back(std::move(loop));
  }
  return loops;
}

}  // namespace rollwright::trade
