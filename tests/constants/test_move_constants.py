#!/usr/bin/env python3
"""What the tool finds in planted sources, and that what let_go.txt names is still there."""
import unittest

import move_constants as tool


def texts(source, file="models/planted.cpp"):
    return [c.text for c in tool.constants_of(file, source)]


class Finder(unittest.TestCase):
    def test_named_ones_whatever_their_value(self):
        self.assertEqual(texts("constexpr double half = 0.5, one = 1.0;\n"), ["0.5", "1.0"])
        self.assertEqual(texts("constexpr Millis dwell = std::chrono::minutes{10};\n"), ["10"])
        self.assertEqual(texts("struct A {\n  double share = 0.90;  // 0.3\n  Metres width{0.010};\n  int n = 0;\n};\n",
                               "models/planted.hpp"), ["0.90", "0.010"])

    def test_figures_in_formulas(self):
        self.assertEqual(texts('double f(double x) {\n  return 0.2 + 3.0 * x / 2.0 - 0.5;  // 7\n}\nauto s = "8 {:.1f}";\n'),
                         ["0.2", "3.0"])
        self.assertEqual(texts("return x > 1e-9 ? x * 13'000.0 : -4.18e-5;\n"), ["1e-9", "13'000.0", "4.18e-5"])

    def test_sizes_units_enumerators_and_the_compilers_own_checks_are_passed_over(self):
        self.assertEqual(texts("std::array<double, 3> a;\nint b[4];\nenum E { e = 4 };\nstatic_assert(5 > 4);\n"), [])
        self.assertEqual(texts("return grams * 1e-3 + 100.0 * x;\n#define SIX 6\n"), [])
        self.assertEqual(texts("for (std::size_t i = 1; i < n; ++i) {\n  switch (i) {\n    case 3:\n", "models/planted.hpp"), [])

    def test_lines_are_counted_from_one(self):
        found = tool.constants_of("models/planted.cpp", "\n\n  return 7.5 * x;\n")
        self.assertEqual([(c.line, c.text, c.around) for c in found], [(3, "7.5", "return 7.5 * x;")])


class Mover(unittest.TestCase):
    def test_by_a_fifth_whole_numbers_by_one_at_least(self):
        self.assertEqual(tool.moved_text("10"), "12")
        self.assertEqual(tool.moved_text("3"), "4")
        self.assertEqual(tool.moved_text("30U"), "36U")
        self.assertEqual(float(tool.moved_text("2.5")), 3.0)

    def test_a_constant_becomes_a_variable_and_the_lines_stay(self):
        source = "constexpr double a = 0.3;\n\nconstexpr double f(double x) {\n  return x * 7.0;\n}\n"
        made = tool.with_switches(source, dict(enumerate(tool.constants_of("models/planted.cpp", source))))
        self.assertEqual(made, "const     double a = ::moved_0;\n\nconstexpr double f(double x) {\n  return x * ::moved_1;\n}\n")


class LetGo(unittest.TestCase):
    def test_every_entry_is_still_in_the_sources_and_has_a_reason(self):
        constants = tool.all_constants(tool.TOP)
        self.assertGreater(len(constants), 500)
        for entry, reason in tool.let_go(tool.HERE / "let_go.txt").items():
            with self.subTest(entry=entry):
                self.assertTrue(any(tool.covers(entry, c) for c in constants), "stands no longer in the sources")
                self.assertGreater(len(reason), 10)


if __name__ == "__main__":
    unittest.main()
