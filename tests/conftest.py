"""Tests never see the packs of whoever runs them."""

from pathlib import Path

import pytest

from claims.own_packs import FOLDER_VARIABLE


@pytest.fixture(autouse=True)
def own_packs(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty folder for a user's packs."""
    folder = tmp_path_factory.mktemp("packs")
    monkeypatch.setenv(FOLDER_VARIABLE, str(folder))
    return folder
