"""The keys of a screen, along its lower edge."""

from textual.widgets import Footer


class Keys(Footer):
    """Made anew only where its keys are others; Textual does so at every change of focus."""

    _made: object = None

    async def recompose(self) -> None:
        if not self.is_attached:
            return
        keys = self._keys()
        if keys != self._made:
            self._made = keys
            await super().recompose()

    def _keys(self) -> object:
        """All that is seen of them."""
        return self._bindings_ready, [
            (binding, self.app.get_key_display(binding), enabled, tooltip)
            for _, binding, enabled, tooltip in self.screen.active_bindings.values()
            if binding.show
        ]
