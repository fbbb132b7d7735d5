#include <fmt/format.h>

#include <algorithm>
#include <pugixml.hpp>
#include <utility>

#include "base/shortened.hpp"
#include "base/text.hpp"
#include "mech/geodesic.hpp"
#include "mech/route.hpp"

namespace rollwright::mech {
namespace {

/// One file being read: turns byte offsets into lines and carries the limits.
class GpxReading {
 public:
  GpxReading(std::string_view text, const std::string& file, const GpxLimits& limits)
      : file_(file), limits_(limits) {
    for (std::size_t at = text.find('\n'); at != text.npos; at = text.find('\n', at + 1)) {
      breaks_.push_back(static_cast<std::ptrdiff_t>(at));
    }
  }

  Result<std::vector<Route>> routes(const pugi::xml_node& root) {
    std::vector<Route> found;
    for (const pugi::xml_node child : root.children()) {
      const std::string_view name = local_name(child);
      if (name != "trk" && name != "rte") continue;
      auto route = name == "trk" ? track(child) : planned(child);
      if (!route) return std::unexpected(route.error());
      if (!route->segments.empty()) found.push_back(std::move(*route));
    }
    if (found.empty()) {
      return std::unexpected(problem(Code::kBadInput, root, "trkpt",
                                     "The file has no track or route with a point in it; record or "
                                     "export the ride again."));
    }
    return found;
  }

  [[nodiscard]] int line_at(std::ptrdiff_t offset) const {
    const auto past = std::lower_bound(breaks_.begin(), breaks_.end(), offset);
    return static_cast<int>(past - breaks_.begin()) + 1;
  }

  [[nodiscard]] Error problem(Code code, const pugi::xml_node& at, std::string field,
                              std::string sentence, std::string value = {}) const {
    return {code, std::move(sentence),
            Place{file_, line_at(at.offset_debug()), std::move(field), std::move(value)}};
  }

  /// The name without a namespace prefix.
  static std::string_view local_name(const pugi::xml_node& node) {
    const std::string_view name = node.name();
    const auto colon = name.find(':');
    return colon == name.npos ? name : name.substr(colon + 1);
  }

 private:
  static std::string name_of(const pugi::xml_node& node) {
    for (const pugi::xml_node child : node.children()) {
      if (local_name(child) == "name") return std::string(trim(child.child_value()));
    }
    return {};
  }

  Result<Route> track(const pugi::xml_node& node) {
    Route route{RouteKind::kTrack, name_of(node), {}};
    for (const pugi::xml_node child : node.children()) {
      if (local_name(child) == "trkpt") {
        return std::unexpected(problem(Code::kBadInput, child, "trkpt",
                                       "A track's points stand in a trkseg; this one does not."));
      }
      if (local_name(child) != "trkseg") continue;
      auto segment = points(child, "trkpt");
      if (!segment) return std::unexpected(segment.error());
      if (auto error = jump_in(*segment)) return std::unexpected(*error);
      if (!segment->empty()) route.segments.push_back(std::move(*segment));
    }
    return route;
  }

  Result<Route> planned(const pugi::xml_node& node) {
    Route route{RouteKind::kPlanned, name_of(node), {}};
    auto segment = points(node, "rtept");
    if (!segment) return std::unexpected(segment.error());
    if (!segment->empty()) route.segments.push_back(std::move(*segment));
    return route;
  }

  Result<std::vector<RoutePoint>> points(const pugi::xml_node& node, std::string_view name) {
    std::vector<RoutePoint> found;
    for (const pugi::xml_node child : node.children()) {
      if (local_name(child) != name) continue;
      if (++points_ > limits_.most_points) {
        return std::unexpected(problem(Code::kTooLarge, child, std::string(name),
                                       fmt::format("The file has more than {} points; thin the "
                                                   "recording out first.",
                                                   limits_.most_points)));
      }
      auto read = point(child);
      if (!read) return std::unexpected(read.error());
      found.push_back(*read);
    }
    return found;
  }

  Result<RoutePoint> point(const pugi::xml_node& node) const {
    const auto latitude = coordinate(node, "lat", 90);
    if (!latitude) return std::unexpected(latitude.error());
    const auto longitude = coordinate(node, "lon", 180);
    if (!longitude) return std::unexpected(longitude.error());
    const auto height = elevation(node);
    if (!height) return std::unexpected(height.error());
    return RoutePoint{*latitude, *longitude, *height, line_at(node.offset_debug())};
  }

  Result<double> coordinate(const pugi::xml_node& node, const char* field, double most) const {
    const pugi::xml_attribute attribute = node.attribute(field);
    const auto number = to_number(attribute.value());
    if (!number) {
      return std::unexpected(
          problem(Code::kBadInput, node, field,
                  fmt::format("A point needs its {} as decimal degrees, as in 47.3769.", field),
                  shortened(attribute.value())));
    }
    // The standard gives the line where day changes one name only: -180.
    const bool holds = -most <= *number && (*number < most || (most == 90 && *number == 90));
    if (holds) return *number;
    return std::unexpected(
        problem(Code::kOutOfRange, node, field,
                fmt::format("{} degrees lie off the globe: {} runs from {} to {}{}.",
                            plain(*number), field, -most, most == 90 ? "" : "under ", most),
                shortened(attribute.value())));
  }

  Result<std::optional<Length>> elevation(const pugi::xml_node& node) const {
    for (const pugi::xml_node child : node.children()) {
      if (local_name(child) != "ele") continue;
      const auto number = to_number(trim(child.child_value()));
      if (!number) {
        return std::unexpected(problem(Code::kBadInput, child, "ele",
                                       "An elevation is a number of metres, as in 412.5.",
                                       shortened(child.child_value())));
      }
      if (-500 <= *number && *number <= 9000) return std::optional<Length>(*number * metre);
      return std::unexpected(problem(
          Code::kOutOfRange, child, "ele",
          "No road lies there: an elevation is between -500 and 9000 m. Take the point out.",
          shortened(child.child_value())));
    }
    return std::optional<Length>{};
  }

  /// A recording that leaps across the country has a broken point in it.
  [[nodiscard]] std::optional<Error> jump_in(const std::vector<RoutePoint>& segment) const {
    for (std::size_t i = 1; i < segment.size(); ++i) {
      const RoutePoint& a = segment[i - 1];
      const RoutePoint& b = segment[i];
      const auto step =
          geodesic({a.latitude_deg, a.longitude_deg}, {b.latitude_deg, b.longitude_deg});
      if (!step) return step.error();
      if (step->length <= limits_.most_step) continue;
      return Error{Code::kOutOfRange,
                   fmt::format("The track leaps {:.0f} km from the point on line {} to this one; "
                               "one of the two is wrong. Steps up to {:.0f} km are read.",
                               step->length.in(km), a.line, limits_.most_step.in(km)),
                   Place{file_, b.line, "trkpt", {}}};
    }
    return std::nullopt;
  }

  const std::string& file_;
  const GpxLimits& limits_;
  std::vector<std::ptrdiff_t> breaks_;
  std::size_t points_ = 0;
};

std::optional<Error> text_problem(std::string_view text, const std::string& file,
                                  const GpxLimits& limits) {
  if (text.size() > limits.most_bytes) {
    return Error{
        Code::kTooLarge,
        fmt::format("The file has {} bytes; up to {} are read.", text.size(), limits.most_bytes),
        Place{.file = file}};
  }
  if (!is_utf8(text)) {
    return Error{Code::kBadInput, "The file is not UTF-8 text; save it again as UTF-8.",
                 Place{.file = file}};
  }
  return std::nullopt;
}

/// Document types carry entities, which can grow without end or reach for other files. No ride
/// recorder writes one.
std::optional<Error> doctype_problem(const pugi::xml_document& document,
                                     const GpxReading& reading) {
  for (const pugi::xml_node node : document.children()) {
    if (node.type() != pugi::node_doctype) continue;
    return reading.problem(Code::kBadInput, node, "DOCTYPE",
                           "The file declares a document type. GPX files need none; take the "
                           "declaration out.");
  }
  return std::nullopt;
}

/// Walks the whole tree without calling itself, so that no depth can break it.
std::optional<Error> depth_problem(const pugi::xml_document& document, const GpxReading& reading,
                                   const GpxLimits& limits) {
  int depth = 0;
  pugi::xml_node at = document;
  while (true) {
    if (const pugi::xml_node child = at.first_child()) {
      at = child;
      if (++depth <= limits.most_depth) continue;
      return reading.problem(Code::kTooLarge, at, at.name(),
                             fmt::format("Elements stand more than {} deep in each other; no ride "
                                         "needs that.",
                                         limits.most_depth));
    }
    while (at && !at.next_sibling()) {
      at = at.parent();
      --depth;
    }
    if (!at) return std::nullopt;
    at = at.next_sibling();
  }
}

std::optional<Error> root_problem(const pugi::xml_node& root, const GpxReading& reading) {
  if (GpxReading::local_name(root) != "gpx") {
    return reading.problem(Code::kBadInput, root, root.name(),
                           "This is no GPX file: its outermost element is gpx.");
  }
  const std::string_view version = root.attribute("version").value();
  if (version.empty() || version == "1.0" || version == "1.1") return std::nullopt;
  return reading.problem(Code::kBadInput, root, "version", "GPX 1.0 and 1.1 are read.",
                         shortened(version));
}

}  // namespace

Result<std::vector<Route>> read_gpx(std::string_view text, const std::string& file,
                                    const GpxLimits& limits) {
  if (auto error = text_problem(text, file, limits)) return std::unexpected(*error);
  pugi::xml_document document;
  const pugi::xml_parse_result parsed = document.load_buffer(
      text.data(), text.size(), pugi::parse_default | pugi::parse_doctype, pugi::encoding_utf8);
  GpxReading reading(text, file, limits);
  if (auto error = doctype_problem(document, reading)) return std::unexpected(*error);
  if (!parsed) {
    return refuse(Code::kBadInput,
                  fmt::format("The file is not well-formed XML: {}. It may be cut short; export it "
                              "again.",
                              parsed.description()),
                  {.file = file, .line = reading.line_at(parsed.offset)});
  }
  if (auto error = depth_problem(document, reading, limits)) return std::unexpected(*error);
  const pugi::xml_node root = document.document_element();
  if (auto error = root_problem(root, reading)) return std::unexpected(*error);
  return reading.routes(root);
}

}  // namespace rollwright::mech
