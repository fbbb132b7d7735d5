find_package(CLI11 REQUIRED)
add_executable(bench_tamper ${CMAKE_CURRENT_LIST_DIR}/tamper.cpp
               ${CMAKE_CURRENT_LIST_DIR}/invented_years.cpp)
target_link_libraries(bench_tamper PRIVATE book fmt::fmt CLI11::CLI11)
