find_package(CLI11 REQUIRED)
find_package(nlohmann_json REQUIRED)
add_executable(bench_textbook ${CMAKE_CURRENT_LIST_DIR}/textbook.cpp)
target_link_libraries(bench_textbook PRIVATE plan base fmt::fmt CLI11::CLI11
                                             nlohmann_json::nlohmann_json)
target_compile_definitions(bench_textbook PRIVATE ROLLWRIGHT_ROOT="${PROJECT_SOURCE_DIR}")
