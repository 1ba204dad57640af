"""Asked for by name alone: both databases that tests copy stand on the server before the first fault."""


def test_templates_stand(demo_template: str) -> None:
    assert demo_template
