find_package(CLI11 REQUIRED)
add_executable(bench_templates templates.cpp)
target_link_libraries(bench_templates PRIVATE build trade base fmt::fmt CLI11::CLI11)
target_compile_definitions(bench_templates PRIVATE ROLLWRIGHT_ROOT="${PROJECT_SOURCE_DIR}")
