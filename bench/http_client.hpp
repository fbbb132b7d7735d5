#pragma once

#include <string>

namespace rollwright::bench {

struct Answer {
  int status = 0;  // 0: no answer came (the server was gone)
  std::string body;
};

/// One request over one new connection to this machine, with JSON when there is a body. Gives up
/// after five seconds.
[[nodiscard]] Answer ask(int port, const std::string& method, const std::string& target,
                         const std::string& body = {});

/// The whole number after `"name":` in a JSON text; -1 when it is not there.
[[nodiscard]] long long number_in(const std::string& json, const std::string& name);

}  // namespace rollwright::bench
