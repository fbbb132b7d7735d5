# Every move in the life of an order, beside a second opinion.
add_executable(bench_transitions ${CMAKE_CURRENT_LIST_DIR}/transitions.cpp)
target_link_libraries(bench_transitions PRIVATE build_trials fmt::fmt)
