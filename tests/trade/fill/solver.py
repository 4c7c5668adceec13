"""The choice by an integer solver, which knows nothing of the program."""

from ortools.sat.python import cp_model


class Solver:
    """The rules of choice written out for an integer solver; nothing of the program is in them."""

    def __init__(self, fillers, left_over, *, front_at, back_at, end_at_most, back_whole=False):
        self.fillers, self.left_over = fillers, left_over
        self.model = model = cp_model.CpModel()
        self.taken = [model.new_bool_var(f"taken {f.id}") for f in fillers]
        self.pages = [
            model.new_int_var_from_domain(
                cp_model.Domain.from_values([0, *filler.counts]), f"pages {filler.id}"
            )
            for filler in fillers
        ]
        for pages, taken in zip(self.pages, self.taken, strict=True):
            model.add(pages >= 1).only_enforce_if(taken)
            model.add(pages == 0).only_enforce_if(taken.negated())
        self.blanks = model.new_int_var(0, end_at_most, "blanks")
        model.add(sum(self.pages) + self.blanks == left_over)
        self._needs_and_excludes()
        front = self._place("front", front_at)
        half = model.new_int_var(0, left_over, "leaves in front")
        model.add(front == 2 * half)
        back = self._place("back", back_at, front)
        if back_whole:
            leaves = model.new_int_var(0, left_over, "leaves at the back")
            model.add(back == 2 * leaves)

    def _needs_and_excludes(self):
        taken = {filler.id: var for filler, var in zip(self.fillers, self.taken, strict=True)}
        for filler in self.fillers:
            if filler.required:
                self.model.add(taken[filler.id] == 1)
            for other in filler.needs:
                self.model.add_implication(taken[filler.id], taken[other])
            for other in filler.excludes:
                self.model.add_bool_or(taken[filler.id].negated(), taken[other].negated())

    def _place(self, place, at, before=0):
        """Set the fillers of a place one after another; give the pages they take in all."""
        total = 0
        for number, filler in enumerate(self.fillers):
            if filler.place != place:
                continue
            if at is None:
                self.model.add(self.taken[number] == 0)
            elif filler.starts != "any":
                leaf = self.model.new_int_var(0, 1000, f"leaf of {filler.id}")
                first_page = at + before + total
                odd = 1 if filler.starts == "recto" else 0
                self.model.add(first_page == 2 * leaf + odd).only_enforce_if(self.taken[number])
            total += self.pages[number]
        return total

    def best(self):
        """Settle one aim after the other: priorities, blanks, then each entry of the catalogue."""
        aims = [
            sum(p for p, f in zip(self.pages, self.fillers, strict=True) if f.priority == priority)
            for priority in sorted({filler.priority for filler in self.fillers})
        ]
        solver = cp_model.CpSolver()
        solver.parameters.num_workers = 1
        if solver.solve(self.model) != cp_model.OPTIMAL:
            return None
        for aim in [*aims, -self.blanks, *self.pages]:
            self.model.maximize(aim)
            assert solver.solve(self.model) == cp_model.OPTIMAL
            self.model.clear_objective()
            self.model.add(aim == round(solver.objective_value))
        assert solver.solve(self.model) == cp_model.OPTIMAL
        return [solver.value(pages) for pages in self.pages], solver.value(self.blanks)
