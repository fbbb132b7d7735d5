find_package(CLI11 REQUIRED)
add_executable(bench_ft06 ${CMAKE_CURRENT_LIST_DIR}/ft06.cpp)
target_link_libraries(bench_ft06 PRIVATE plan base fmt::fmt CLI11::CLI11)
target_compile_definitions(bench_ft06 PRIVATE ROLLWRIGHT_ROOT="${PROJECT_SOURCE_DIR}")
