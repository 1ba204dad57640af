"""One way to ask about one lane with all that a pace says."""

from drills.drawing.lanes import lane_margin_s


def margin(ball, target, defender, pace):
    return lane_margin_s(
        ball,
        target,
        defender,
        ball_speed=pace.ball_speed,
        reaction_s=pace.reaction_s,
        defender_speed=pace.defender_speed,
        reach_m=pace.reach_m,
        lunge_m=pace.lunge_m,
        lunge_s=pace.lunge_s,
    )
