using Microsoft.AspNetCore.Components;

namespace ShopFloor.Web.Shared.Controls;

/// <summary>One thing to choose.</summary>
/// <param name="Value">What is chosen.</param>
/// <param name="Text">Its words.</param>
/// <param name="Note">A second line, on cards only.</param>
/// <param name="Picture">A drawing above the words, on cards only.</param>
/// <param name="Barred">Why it cannot be chosen now, or null.</param>
public sealed record Choice<TValue>(TValue Value, string Text, string? Note = null, RenderFragment? Picture = null, string? Barred = null);
