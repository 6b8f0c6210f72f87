namespace ShopFloor.Web.Commands;

/// <summary>
/// Marks a use case: a sealed class with a verb for a name and one public <c>RunAsync</c>, which goes through <see cref="CommandRunner"/>
/// when it writes. Registered by itself.
/// </summary>
public interface IUseCase;

/// <summary>Marks a read: projects what one page shows straight from the database, and changes nothing. Registered by itself.</summary>
public interface IPageView;

/// <summary>
/// Marks an errand of a page or a round: it begins use cases, keeps something as long as the page lives, or sends. What it changes in the
/// database, its use cases change. Registered by itself.
/// </summary>
public interface IErrand;
